// Opens the tables that a run wrote with readers that share no code with the
// writer: DuckDB and hyparquet. Usage: node check.mjs FOLDER
//
// FOLDER holds NAME.parquet, NAME.csv and NAME.csv-metadata.json. Every value of
// the Parquet file must equal that of the CSV file, and every query that a
// reader may answer from the statistics of the Parquet file must find the rows
// that the CSV file has. Prints one line a failure; exit code 1 if there are any.

import { readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { DuckDBInstance } from '@duckdb/node-api'
import { asyncBufferFromFile, parquetMetadataAsync, parquetReadObjects } from 'hyparquet'
import { compressors } from 'hyparquet-compressors'
import { checkGeo } from './geo.mjs'

const failures = []
const expect = (ok, what) => { if (!ok) failures.push(what) }
const db = await (await DuckDBInstance.create()).connect()
const rows = async (sql) => (await db.runAndReadAll(sql)).getRowObjectsJS()
const one = async (sql) => Object.values((await rows(sql))[0])[0]
const name = (s) => '"' + s.replaceAll('"', '""') + '"'
const text = (s) => "('" + String(s).replaceAll("'", "''").replaceAll('\0', "' || chr(0) || '") + "')"

const sqlTypes = { double: 'DOUBLE', long: 'BIGINT', string: 'VARCHAR', boolean: 'BOOLEAN' }

// loadCSV makes table `csv` with the columns the description file names, and
// takes the quote off texts that were kept from being formulas.
async function loadCSV(path) {
  const columns = JSON.parse(readFileSync(path + '-metadata.json', 'utf8')).tableSchema.columns
  const types = columns.map((c) => `'${c.name}': '${sqlTypes[c.datatype]}'`).join(', ')
  const values = columns.map((c) => c.datatype !== 'string' ? name(c.name)
    : `regexp_replace(${name(c.name)}, '^''(''*[=+\\-@\\t\\r\\n\\x{FF1D}\\x{FF0B}\\x{FF0D}\\x{FF20}])', '\\1') as ${name(c.name)}`)
  await db.run(`create or replace table csv as select ${values.join(', ')}
    from read_csv(${text(path)}, auto_detect=false, header=true, delim=',', quote='"', escape='"', nullstr='',
    allow_quoted_nulls=false, parallel=false, columns={${types}})`)
  return columns
}

// probes returns conditions a reader may answer from statistics.
async function probes(c) {
  const col = name(c.name)
  const out = [`${col} is null`, `${col} is not null`]
  if (c.datatype === 'boolean') return [...out, col, `not ${col}`]
  for (const v of await one(`select quantile_disc(${col}, [0, 0.03, 0.5, 0.97, 1]) from csv`) ?? []) {
    const literal = c.datatype === 'string' ? text(v) : c.datatype === 'double' ? `${v}::DOUBLE` : v
    out.push(`${col} < ${literal}`, `${col} = ${literal}`, `${col} > ${literal}`)
  }
  return out
}

async function checkDuckDB(file, columns) {
  const label = basename(file)
  const parquet = `read_parquet(${text(file)})`
  expect(await one(`select count(*) from ${parquet}`) === await one('select count(*) from csv'), `${label}: number of rows`)
  await db.run(`create or replace table pq as from ${parquet}`)
  const [unequal] = await rows(`select ${columns.map((c) => `count_if(pq.${name(c.name)} is distinct from csv.${name(c.name)}) as ${name(c.name)}`)}
    from pq positional join csv`)
  for (const c of columns) {
    const col = name(c.name)
    expect(!unequal[c.name], `${label}: ${c.name}: ${unequal[c.name]} values differ from the CSV`)
    for (const condition of await probes(c)) {
      const got = await one(`select count(*) from ${parquet} where ${condition}`)
      const want = await one(`select count(*) from csv where ${condition}`)
      expect(got === want, `${label}: DuckDB: where ${condition}: ${got} rows, CSV has ${want}`)
    }
    if (c.datatype === 'double' || c.datatype === 'long') {
      const [a, b] = [await one(`select fsum(${col}) from ${parquet}`), await one(`select fsum(${col}) from csv`)]
      expect(a === b || Math.abs(a - b) <= 1e-12 * Math.abs(b), `${label}: sum of ${c.name}: ${a}, CSV ${b}`)
    }
    if (c.name.endsWith('_id')) {
      const count = (from) => one(`select count(distinct ${col}) from ${from}`)
      expect(await count(parquet) === await count('csv'), `${label}: distinct ${c.name}`)
    }
  }
}

async function checkHyparquet(file, columns, buffer, metadata) {
  const label = basename(file)
  expect(metadata.num_rows === await one('select count(*) from csv'), `${label}: rows by the footer`)
  const groups = metadata.row_groups
  for (const c of columns) {
    const inFooter = groups.flatMap((g) => g.columns).filter((k) => k.meta_data.path_in_schema[0] === c.name)
    const nulls = inFooter.reduce((n, k) => n + (k.meta_data.statistics?.null_count ?? 0n), 0n)
    const want = await one(`select count(*) from csv where ${name(c.name)} is null`)
    expect(nulls === want, `${label}: nulls of ${c.name} by the footer: ${nulls}, CSV has ${want}`)
    if (c.datatype !== 'double') continue
    const [{ v }] = await rows(`select quantile_disc(${name(c.name)}, 0.03) as v from csv`)
    if (v === null) continue
    for (const [op, sql] of [['$lt', '<'], ['$gte', '>=']]) {
      const found = await parquetReadObjects({ file: buffer, metadata, compressors, columns: [c.name], filter: { [c.name]: { $ne: null, [op]: v } } })
      const expected = await one(`select count(*) from csv where ${name(c.name)} ${sql} ${v}::DOUBLE`)
      expect(BigInt(found.length) === expected, `${label}: hyparquet: ${c.name} ${sql} ${v}: ${found.length} rows, CSV has ${expected}`)
    }
  }
}

const folder = process.argv[2]
const files = readdirSync(folder).filter((f) => f.endsWith('.parquet'))
expect(files.length > 0, `${folder}: no Parquet files`)
for (const f of files) {
  const file = join(folder, f)
  try {
    const columns = await loadCSV(file.replace(/parquet$/, 'csv'))
    await checkDuckDB(file, columns)
    const buffer = await asyncBufferFromFile(file)
    const metadata = await parquetMetadataAsync(buffer)
    await checkHyparquet(file, columns, buffer, metadata)
    expect((metadata.key_value_metadata ?? []).some((kv) => kv.key === 'caution'), `${f}: no caution`)
    if (columns.some((c) => c.name === 'lon')) {
      const points = await parquetReadObjects({ file: buffer, metadata, compressors, columns: ['lon', 'lat', 'geometry', 'bbox'] })
      const type = await one(`select any_value(typeof(geometry)) from read_parquet(${text(file)})`)
      for (const problem of checkGeo(metadata, points, type)) expect(false, `${f}: ${problem}`)
    }
  } catch (err) {
    expect(false, `${f}: ${err.message}`)
  }
}
for (const line of failures) console.log(line)
console.log(`${files.length} Parquet files, ${failures.length} failures`)
process.exitCode = failures.length > 0 ? 1 : 0
