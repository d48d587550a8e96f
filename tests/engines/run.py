"""Starts the engines, asks each for the same answers, kills workers, prints a table. See run.sh."""

import hashlib
import json
import os
import pathlib
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import time

import pyarrow as pa
import pyarrow.parquet as pq
from guardcell import _native

HERE = pathlib.Path(__file__).parent
SMALL = "--small" in sys.argv
PROGRAM = sys.argv[-1]
CONVERSIONS, ADVICES = (60_000, 160) if SMALL else (1_000_000, 20_000)
COLUMNS = {
    "convert": "value,unit,basis,notes",
    "advise": "plants.0.verdict,plants.0.feed_strength_mg_l,plants.0.passes,"
    "plants.0.windows.0.start,plants.0.reasons",
}
ROWS = {"convert": CONVERSIONS, "advise": ADVICES}
TICKS = os.sysconf("SC_CLK_TCK")


def data(folder: pathlib.Path) -> None:
    units = [("ppm P2O5", "ppm P"), ("°dH", "mg/L CaCO3"), ("°F", "°C"), ("mS/cm at 18 °C", "mS/cm at 25 °C")]
    n = CONVERSIONS
    table = {
        "id": pa.array(range(n), pa.int64()),
        "quantity": [f"{i % 9973}.{i % 10} {units[i * 7 % 4][0]}" for i in range(n)],
        "to": [units[i * 7 % 4][1] for i in range(n)],
    }
    pq.write_table(pa.table(table), folder / "convert.parquet", row_group_size=n // 16)
    request = json.loads(_native.example("advise"))
    names = ["Cattleya labiata", "Phalaenopsis", "Masdevallia veitchiana", "Vanda"]
    rows = []
    for i in range(ADVICES):
        # A year of days and hours, fronts and dry spells.
        at = f"2026-{i % 12 + 1:02}-{i % 28 + 1:02}T{i % 24:02}:40:00Z"
        request["plants"][0].update(id=f"FH-{i}", name=names[i % 4])
        air = {"time": at, "temp_c": 12 + i % 150 / 10, "rh_percent": 40 + i * 13 % 57}
        request["readings"][0].update(air)
        request["at"] = at
        rows.append(json.dumps(request, ensure_ascii=False))
    table = {"id": pa.array(range(ADVICES), pa.int64()), "request": rows}
    pq.write_table(pa.table(table), folder / "advise.parquet", row_group_size=ADVICES // 16)


def fingerprint(path: pathlib.Path, call: str) -> str:
    """Of the answers in the order of ids, numbers by their bits."""
    table = pq.read_table(path).sort_by("id")
    digest = hashlib.sha256()
    names = [n for n in table.column_names if n not in ("quantity", "to", "error")]
    for name in sorted(names):
        digest.update(name.encode())
        for value in table[name].to_pylist():
            if isinstance(value, float):
                digest.update(struct.pack("<d", value))
            else:
                digest.update(repr(value).encode())
    assert len(table) == ROWS[call], (path, len(table))
    return digest.hexdigest()[:16]


def tree(pids: list[int]) -> set[int]:
    """Processes and their descendants."""
    parents: dict[int, int] = {}
    for name in os.listdir("/proc"):
        if name.isdigit():
            try:
                stat = pathlib.Path(f"/proc/{name}/stat").read_text().rsplit(")", 1)[1].split()
            except OSError:
                continue
            parents[int(name)] = int(stat[1])
    found = set(pids)
    while True:
        more = {p for p, parent in parents.items() if parent in found} - found
        if not more:
            return found
        found |= more


def cpu(pids: list[int]) -> float:
    """Processor time of processes, their descendants, and those of them that have ended."""
    total = 0
    for pid in tree(pids):
        try:
            stat = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        total += sum(int(t) for t in stat[11:15])
    return total / TICKS


class Cluster:
    """Processes that are started here and ended here, by their ids."""

    def __init__(self, folder: pathlib.Path) -> None:
        self.folder, self.processes, self.log = folder, [], open(folder / "cluster.log", "a")

    def start(self, *command: str, env: dict[str, str]) -> subprocess.Popen:
        process = subprocess.Popen(command, stdout=self.log, stderr=self.log, env=env)
        self.processes.append(process)
        return process

    def wait_for(self, text: str, times: int) -> None:
        for _ in range(720):
            if (self.folder / "cluster.log").read_text(errors="replace").count(text) >= times:
                return
            time.sleep(0.25)
        sys.exit(f"the cluster did not come up: {self.folder / 'cluster.log'}")

    def kill(self, process: subprocess.Popen) -> None:
        """A worker and what it started, without warning."""
        for pid in sorted(tree([process.pid])):
            try:
                os.kill(pid, signal.SIGKILL)
            except ProcessLookupError:
                pass
        process.wait()

    def stop(self) -> None:
        for process in reversed(self.processes):
            if process.poll() is None:
                process.terminate()
        for process in self.processes:
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                self.kill(process)


def job(command: list[str], env: dict[str, str], workers: list[int], turns: int = 1) -> tuple[float, float]:
    """Runs a job; elapsed and processor time of the workers and the job in its last turn."""
    env = {**env, "TURNS": str(turns), "WAIT": "1"}
    process = subprocess.Popen(
        command, env=env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, stderr=open("job.log", "a")
    )
    elapsed = used = 0.0
    for line in process.stdout:
        word, *rest = line.split()
        if word == "begin":
            began, before = float(rest[0]), cpu([*workers, process.pid])
        elif word == "end":
            elapsed = float(rest[0]) - began
            used = cpu([*workers, process.pid]) - before
            try:
                process.stdin.write("\n")
                process.stdin.flush()
            except BrokenPipeError:
                pass
    assert process.wait() == 0, f"{command}: see job.log"
    return elapsed, used


def report(engine: str, call: str, elapsed: float, used: float) -> None:
    rows = ROWS["convert" if call == "empty" else call]
    print(f"| {engine} | {call} | {rows} | {elapsed:.2f} | {used:.2f} | {rows / used:,.0f} |", flush=True)


def batch(folder: pathlib.Path) -> dict[str, str]:
    wanted = {}
    for call in ("convert", "advise"):
        command = [PROGRAM, "batch", call, "--quiet", "--columns", COLUMNS[call]]
        command += ["--input", f"{folder}/{call}.parquet", "--output", f"{folder}/{call}.batch.parquet"]
        began, before = time.time(), os.times()
        subprocess.run(command, check=True)
        after = os.times()
        used = after.children_user + after.children_system - before.children_user - before.children_system
        report("`guardcell batch`", call, time.time() - began, used)
        wanted[call] = fingerprint(folder / f"{call}.batch.parquet", call)
    return wanted


def engine(name, script, address, folder, env, workers, wanted, turns) -> None:
    for call in ("empty", "convert", "advise"):
        of = "convert" if call == "empty" else call
        made = folder / f"{call}.{name}.parquet"
        command = [sys.executable, str(HERE / script), address, of, f"{folder}/{of}.parquet", str(made), *COLUMNS[of].split(",")]
        times = job(command, {**env, "EMPTY": "1"} if call == "empty" else env, workers, turns)
        report(name, call, *times)
        if call != "empty":
            got = fingerprint(made, call)
            assert got == wanted[call], f"{name} {call}: {got} is not {wanted[call]}"


def lose_a_worker(name, script, address, folder, env, cluster, worker, begun, wanted) -> None:
    made = folder / f"lost.{name}.parquet"
    command = [sys.executable, str(HERE / script), address, "convert", f"{folder}/convert.parquet", str(made), *COLUMNS["convert"].split(",")]
    process = subprocess.Popen(command, env={**env, "SLOW": "0.7", "PARTITION": "64k"}, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=open("job.log", "a"))
    for _ in range(600):
        if begun(made) or process.poll() is not None:
            break
        time.sleep(0.1)
    assert process.poll() is None, f"{name}: the job ended before a worker could be killed"
    cluster.kill(worker)
    assert process.wait(300) == 0, f"{name}: the job failed: see job.log"
    assert fingerprint(made, "convert") == wanted["convert"]
    print(f"{name}: one of two workers was killed in the middle; all rows are there", flush=True)


def spark(folder: pathlib.Path, wanted: dict[str, str]) -> None:
    import pyspark

    home = os.path.dirname(pyspark.__file__)
    env = dict(
        os.environ, SPARK_HOME=home, SPARK_LOCAL_IP="127.0.0.1", PYSPARK_PYTHON=sys.executable,
        SPARK_DAEMON_MEMORY="512m", SPARK_WORKER_DIR=str(folder / "work"), SPARK_NO_DAEMONIZE="1",
    )
    start = f"{home}/bin/spark-class"
    address = "spark://127.0.0.1:7177"
    cluster = Cluster(folder)
    try:
        cluster.start(start, "org.apache.spark.deploy.master.Master", "--host", "127.0.0.1", "--port", "7177", "--webui-port", "8281", env=env)
        cluster.wait_for("I have been elected leader", 1)
        workers = [
            cluster.start(start, "org.apache.spark.deploy.worker.Worker", "--host", "127.0.0.1", "--cores", "1", "--memory", "1500m", "--webui-port", str(8282 + i), address, env=env)
            for i in range(2)
        ]
        cluster.wait_for("Registering worker", 2)
        engine("Spark", "spark_example.py", address, folder, env, [w.pid for w in workers], wanted, 1 if SMALL else 2)
        committed = lambda made: any(made.glob("_temporary/0/task_*"))
        lose_a_worker("Spark", "spark_example.py", address, folder, env, cluster, workers[0], committed, wanted)
    finally:
        cluster.stop()


def dask(folder: pathlib.Path, wanted: dict[str, str]) -> None:
    env = dict(os.environ, OMP_NUM_THREADS="1", DASK_DISTRIBUTED__WORKER__DAEMON="False")
    bin = os.path.dirname(sys.executable)
    address = "tcp://127.0.0.1:8796"
    cluster = Cluster(folder)
    try:
        cluster.start(f"{bin}/dask", "scheduler", "--host", "127.0.0.1", "--port", "8796", "--no-dashboard", env=env)
        cluster.wait_for("Scheduler at:", 1)
        workers = [
            cluster.start(f"{bin}/dask", "worker", address, "--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(folder / "dask"), env=env)
            for _ in range(2)
        ]
        cluster.wait_for("Registered to:", 2)
        engine("Dask", "dask_example.py", address, folder, env, [w.pid for w in workers], wanted, 1 if SMALL else 2)
        written = lambda made: any(made.glob("*.parquet"))
        lose_a_worker("Dask", "dask_example.py", address, folder, env, cluster, workers[0], written, wanted)
    finally:
        cluster.stop()


def main() -> None:
    # Ended from outside, it still ends what it started.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    folder = pathlib.Path(tempfile.mkdtemp(prefix="guardcell-engines-"))
    try:
        data(folder)
        print("| engine | call | rows | elapsed s | processor s | rows per second per core |")
        print("| --- | --- | --- | --- | --- | --- |", flush=True)
        wanted = batch(folder)
        # ENGINES="Spark Dask" asks these only.
        asked = os.environ.get("ENGINES", "DuckDB Dask Spark").split()
        if "DuckDB" in asked:
            engine("DuckDB", "duckdb_example.py", "1", folder, dict(os.environ), [], wanted, 1)
        if "Dask" in asked:
            dask(folder, wanted)
        if "Spark" in asked:
            spark(folder, wanted)
    except BaseException:
        print(f"left for a look: {folder}", file=sys.stderr)
        raise
    shutil.rmtree(folder)


if __name__ == "__main__":
    main()
