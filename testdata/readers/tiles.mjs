// tiles.mjs FILE.pmtiles prints the header and the metadata of a PMTiles file as one line of JSON each,
// then a line for each "z/x/y" on standard input: the SHA-256 of that tile, or "none".
import { createHash } from 'node:crypto'
import { open } from 'node:fs/promises'
import { createInterface } from 'node:readline'
import { PMTiles } from 'pmtiles'

const file = await open(process.argv[2])
const source = {
  getKey: () => process.argv[2],
  async getBytes(offset, length) {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, offset)
    return { data: buffer.buffer.slice(buffer.byteOffset, buffer.byteOffset + bytesRead) }
  },
}
const tiles = new PMTiles(source)
const big = (_, v) => (typeof v === 'bigint' ? Number(v) : v)
console.log(JSON.stringify(await tiles.getHeader(), big))
console.log(JSON.stringify(await tiles.getMetadata()))
for await (const line of createInterface({ input: process.stdin })) {
  const [z, x, y] = line.split('/').map(Number)
  const tile = await tiles.getZxy(z, x, y)
  console.log(tile ? createHash('sha256').update(Buffer.from(tile.data)).digest('hex') : 'none')
}
await file.close()
