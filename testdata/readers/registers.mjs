// Writes small registers as Parquet files with DuckDB, which shares no code with the
// program, into a folder: node registers.mjs FOLDER [ROWS...]
//
// Row i is the same in every file (pipeline/inventory/foreign_test.go has it in Go); the
// name of a file says how it is written and how many rows it has.
import { join } from 'node:path'
import { DuckDBInstance } from '@duckdb/node-api'

const [folder, ...sizes] = process.argv.slice(2)
const db = await (await DuckDBInstance.create()).connect()

// The columns of row i: name and SQL.
const usual = {
  ref: "'B' || i", lon: '-141.2 + i * 0.00001', lat: '41.6::double', built: 'case when i % 7 = 0 then null else 1930 + i % 60 end',
  floors: '1 + i % 5', area: '100 + i * 0.25', type: "case when i % 3 = 0 then 'RC' else 'W' end",
}
const narrow = { floors: '(1 + i % 5)::utinyint', built: 'case when i % 7 = 0 then null else 1930 + i % 60 end::usmallint', area: '(100 + i * 0.25)::float' }
const beside = {
  tags: "['a', 'b']", box: "{'x': i, 'y': 1.5}", words: "map(['k'], ['v'])", blob: "'\\xAA'::blob", span: 'interval 1 year', yes: 'i % 2 = 0',
  token: "('00000000-0000-4000-8000-' || lpad(i::varchar, 12, '0'))::uuid",
}
const kinds = {
  plain: [{}, 'compression uncompressed'],
  snappy: [{}, 'compression snappy'],
  gzip: [{}, 'compression gzip'],
  zstd: [{}, 'compression zstd'],
  brotli: [{}, 'compression brotli'],
  lz4: [{}, 'compression lz4_raw'],
  v2: [{}, 'compression zstd, parquet_version v2'],
  'v2-lz4': [beside, 'compression lz4_raw, parquet_version v2'],
  whole: [{ built: '1930 + i % 60' }, 'compression snappy'], // no null anywhere
  empty: [{ built: 'null::int' }, 'compression snappy'],
  groups: [{}, 'compression snappy, row_group_size 2048'],
  narrow: [narrow, 'compression snappy'],
  decimal: [{ area: '(100 + i * 0.25)::decimal(18, 2)', floors: '(1 + i % 5)::decimal(4, 1)', lat: '41.6::decimal(38, 20)', lon: '(-141.2 + i * 0.00001)::decimal(9, 5)' }, 'compression zstd'],
  date: [{ built: 'case when i % 7 = 0 then null else make_date(1930 + (i % 60)::int, 6, 15) end' }, 'compression zstd'],
  timestamp: [{ built: 'case when i % 7 = 0 then null else make_timestamp(1930 + i % 60, 6, 15, 1, 2, 3) end' }, 'compression zstd'],
  enum: [{ type: "(case when i % 3 = 0 then 'RC' else 'W' end)::enum('RC', 'W')" }, 'compression zstd'],
  number: [{ ref: '9007199254740993 + i' }, 'compression zstd'],
  uuid: [{ ref: beside.token }, 'compression zstd'],
  blob: [{ ref: "('B' || i)::blob" }, 'compression zstd'],
  beside: [beside, 'compression zstd'],
  geo: [{ lon: null, lat: null, geometry: "('POINT(' || (-141.2 + i * 0.00001) || ' 41.6)')::geometry" }, 'compression zstd'],
}

for (const [kind, [columns, options]] of Object.entries(kinds)) {
  const list = Object.entries({ ...usual, ...columns }).filter(([, sql]) => sql !== null).map(([name, sql]) => `${sql} as "${name}"`)
  for (const n of sizes) {
    const path = join(folder, `duckdb-${kind}-${n}.parquet`).replaceAll("'", "''")
    await db.run(`copy (select ${list.join(', ')} from range(${Number(n)}) t(i)) to '${path}' (format parquet, ${options})`)
  }
}
