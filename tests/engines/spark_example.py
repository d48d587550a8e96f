"""A call over a folder of Parquet on Spark: spark_example.py MASTER CALL INPUT OUTPUT [COLUMNS].

SLOW=0.5 waits that long in each task: a test kills a worker meanwhile. EMPTY=1 calls nothing.
"""

import os
import sys
import time

import guardcell.spark
from pyspark.sql import SparkSession

master, call, given, made, *columns = sys.argv[1:]
spark = (
    SparkSession.builder.master(master)
    .appName("guardcell")
    .config("spark.ui.enabled", "false")
    .config("spark.driver.host", "127.0.0.1")
    .config("spark.executor.memory", "1g")
    .config("spark.executor.cores", "1")
    .config("spark.sql.files.maxPartitionBytes", os.environ.get("PARTITION", "1m"))
    .config("spark.sql.execution.arrow.maxRecordsPerBatch", "20000")
    .getOrCreate()
)
spark.sparkContext.setLogLevel("ERROR")
slow = float(os.environ.get("SLOW", "0"))


def slowly(batches):
    for batch in batches:
        time.sleep(slow)
        yield batch


for turn in range(int(os.environ.get("TURNS", "1"))):
    print("begin", time.time(), flush=True)
    rows = spark.read.parquet(given)
    if slow:
        rows = rows.mapInArrow(slowly, rows.schema)
    if os.environ.get("EMPTY"):
        answers = rows.mapInArrow(lambda batches: batches, rows.schema)
    else:
        answers = guardcell.spark.map(rows, call, columns=columns)
    answers.write.mode("overwrite").parquet(made)
    print("end", time.time(), flush=True)
    sys.stdin.readline() if os.environ.get("WAIT") else None
spark.stop()
