"""A call over a file of Parquet on Dask: dask_example.py SCHEDULER CALL INPUT OUTPUT [COLUMNS].

SLOW=0.5 waits that long in each task: a test kills a worker meanwhile. EMPTY=1 calls nothing.
"""

import os
import sys
import time

import dask
import dask.dataframe as dd
import guardcell.dask
from distributed import Client

scheduler, call, given, made, *columns = sys.argv[1:]
# A worker that is gone is not the fault of the task that it had.
dask.config.set({"distributed.scheduler.allowed-failures": 10})
with Client(scheduler) as client:
    slow = float(os.environ.get("SLOW", "0"))

    def slowly(rows):
        time.sleep(slow)
        return rows

    for turn in range(int(os.environ.get("TURNS", "1"))):
        print("begin", time.time(), flush=True)
        rows = dd.read_parquet(given, split_row_groups=True, dtype_backend="pyarrow")
        if slow:
            rows = rows.map_partitions(slowly, meta=rows._meta)
        if os.environ.get("EMPTY"):
            answers = rows.map_partitions(lambda part: part, meta=rows._meta)
        else:
            answers = guardcell.dask.map(rows, call, columns=columns)
        answers.to_parquet(made, write_index=False, overwrite=True)
        print("end", time.time(), flush=True)
        sys.stdin.readline() if os.environ.get("WAIT") else None
