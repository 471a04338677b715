"""Writes small registers as Parquet files with pyarrow, as registers.mjs does with DuckDB:
encodings and checksums that DuckDB does not write. python3 registers.py FOLDER [ROWS...]
"""
import sys
import uuid

import pyarrow as pa
import pyarrow.parquet as pq

folder, *sizes = sys.argv[1:]


def table(n, **columns):
    rows = range(n)
    usual = {
        "ref": [f"B{i}" for i in rows],
        "lon": [-141.2 + i * 0.00001 for i in rows],
        "lat": [41.6] * n,
        "built": [None if i % 7 == 0 else 1930 + i % 60 for i in rows],
        "floors": [1 + i % 5 for i in rows],
        "area": [100 + i * 0.25 for i in rows],
        "type": ["RC" if i % 3 == 0 else "W" for i in rows],
    }
    return pa.table({**usual, **columns})


delta = {"ref": "DELTA_BYTE_ARRAY", "type": "DELTA_LENGTH_BYTE_ARRAY", "built": "DELTA_BINARY_PACKED",
         "floors": "DELTA_BINARY_PACKED", "area": "BYTE_STREAM_SPLIT", "lon": "PLAIN", "lat": "PLAIN"}
kinds = {
    "delta": dict(use_dictionary=False, column_encoding=delta, compression="zstd"),
    "delta-v2": dict(use_dictionary=False, column_encoding=delta, compression="snappy", data_page_version="2.0"),
    "checked": dict(compression="none", write_page_checksum=True),
    "checked-v2": dict(compression="zstd", write_page_checksum=True, data_page_version="2.0"),
    "brotli": dict(compression="brotli"),
    "lz4": dict(compression="lz4", data_page_version="2.0", data_page_size=1000),
    "gzip": dict(compression="gzip", data_page_size=1000, row_group_size=100),
}
for n in map(int, sizes):
    for kind, options in kinds.items():
        pq.write_table(table(n), f"{folder}/pyarrow-{kind}-{n}.parquet", **options)
    ids = pa.array([uuid.UUID(int=0x4000_8000 << 48 | int(str(i), 16)).bytes for i in range(n)], pa.binary(16))
    pq.write_table(table(n, ref=pa.ExtensionArray.from_storage(pa.uuid(), ids)), f"{folder}/pyarrow-uuid-{n}.parquet")
    pq.write_table(table(n, ref=ids), f"{folder}/pyarrow-bytes-{n}.parquet")
