"""A call over a file of Parquet in DuckDB: duckdb_example.py THREADS CALL INPUT OUTPUT [COLUMNS].

The column of requests is `request`; for `convert` the columns are `quantity` and `to`. EMPTY=1 calls
nothing.
"""

import os
import sys
import time

import duckdb
import guardcell.duckdb

threads, call, given, made, *columns = sys.argv[1:]
fields = ["quantity", "to"] if call == "convert" else ["request"]
con = duckdb.connect()
con.execute(f"set threads = {threads}")
named = ", ".join(f'"{field}"' for field in fields)
if os.environ.get("EMPTY"):
    con.create_function("call", lambda text: text, ["VARCHAR"], "VARCHAR", type="arrow")
    answer = f'call("{fields[0]}")'
else:
    types = dict.fromkeys(fields, "VARCHAR")
    guardcell.duckdb.register(con, call, types, function="call", columns=columns)
    answer = f"unnest(call({named}))"
print("begin", time.time(), flush=True)
con.execute(f"copy (select id, {answer} from '{given}') to '{made}' (format parquet)")
print("end", time.time(), flush=True)
