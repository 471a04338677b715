// checkGeo returns what is wrong with a GeoParquet 1.1.0 file of points, by the
// specification's "File metadata", "Column metadata" and "covering": metadata is
// the footer, points are the rows, type is what DuckDB calls the geometry.
export function checkGeo(metadata, points, type) {
  const problems = []
  const expect = (ok, what) => { if (!ok) problems.push(what) }
  const value = (metadata.key_value_metadata ?? []).find((kv) => kv.key === 'geo')?.value
  if (!value) return ['no key geo']
  const geo = JSON.parse(value)
  expect(geo.version === '1.1.0', `geo version ${geo.version}`)
  const column = geo.columns?.[geo.primary_column]
  if (!column) return [...problems, `primary column ${geo.primary_column} is not described`]
  const schema = new Map(metadata.schema.map((e) => [e.name, e]))
  const geometry = schema.get(geo.primary_column)
  expect(geometry?.type === 'BYTE_ARRAY' && geometry.repetition_type !== 'REPEATED', 'geometry is not one BYTE_ARRAY at the root')
  expect(column.encoding === 'WKB', `encoding ${column.encoding}`)
  expect(!('crs' in column), 'crs is given: absent means longitude and latitude of OGC:CRS84')

  const located = points.filter((p) => p.geometry)
  const types = [...new Set(located.map((p) => p.geometry.type))]
  expect(JSON.stringify(column.geometry_types) === JSON.stringify(types), `geometry_types ${column.geometry_types}, present ${types}`)
  expect(points.length === 0 || located.length === 0 || String(type).startsWith('GEOMETRY'), `DuckDB reads the geometry as ${type}`)

  const covering = column.covering?.bbox
  const box = schema.get('bbox')
  expect(JSON.stringify(Object.keys(covering ?? {})) === '["xmin","ymin","xmax","ymax"]', 'covering is not xmin, ymin, xmax, ymax')
  for (const side of ['xmin', 'ymin', 'xmax', 'ymax']) {
    expect(covering?.[side]?.join('.') === `bbox.${side}`, `covering of ${side}`)
    expect(['FLOAT', 'DOUBLE'].includes(schema.get(side)?.type), `type of bbox.${side}`)
  }
  expect(box?.num_children === 4 && box.repetition_type === geometry?.repetition_type, 'bbox does not repeat as the geometry does')

  let inside = true, same = true
  const [x0, y0, x1, y1] = column.bbox ?? []
  for (const p of points) {
    if (!p.geometry) {
      same &&= !p.bbox && (p.lon == null || p.lat == null)
      continue
    }
    const [x, y] = p.geometry.coordinates
    same &&= x === p.lon && y === p.lat && p.bbox.xmin === x && p.bbox.xmax === x && p.bbox.ymin === y && p.bbox.ymax === y
    inside &&= x0 <= x && x <= x1 && y0 <= y && y <= y1
  }
  expect(same, 'geometry, bbox, lon and lat do not agree')
  expect(inside, 'a point is outside the bbox of the file')
  return problems
}
