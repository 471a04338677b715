// DuckDB reads and writes what a screening reads and writes, and computes nothing: a
// measure of the machine. Usage: node baseline.mjs FOLDER, the folder of a demo that has
// been screened. Prints {"Wall": seconds}.

import { DuckDBInstance } from '@duckdb/node-api'
import { performance } from 'node:perf_hooks'

const [folder] = process.argv.slice(2)
const path = (name) => `'${`${folder}/${name}`.replaceAll("'", "''")}'`
const begun = performance.now()
const db = await (await DuckDBInstance.create()).connect()
await db.run(`create table register as select * from read_csv(${path('buildings.csv')}, all_varchar = true)`)
for (const table of ['buildings', 'candidates']) {
  await db.run(`copy (select * from read_csv(${path(`out/${table}.csv`)}, sample_size = -1)) to ${path(`${table}.parquet`)} (format parquet, compression zstd)`)
}
console.log(JSON.stringify({ Wall: (performance.now() - begun) / 1000 }))
