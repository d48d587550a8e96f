#!/bin/sh
# The Python package in engines on this machine: a Spark master with two workers, a Dask scheduler with
# two workers, DuckDB. Each reads and writes Parquet and must give the answers of `guardcell batch`,
# also where a worker is killed in the middle. Needs Java 17 or newer; what it starts it ends.
# Usage: tests/engines/run.sh [--small] [PATH-OF-GUARDCELL]
# PROFILE=release compiles the package as people install it; for times, build the program so too.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
venv=$root/target/engines
small=
[ "${1:-}" = --small ] && small=--small && shift
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
command -v java >/dev/null || {
    echo "Java is missing: apt-get install openjdk-17-jre-headless" >&2
    exit 1
}
if ! cmp -s "$root/tests/engines/requirements.txt" "$venv/installed.txt"; then
    python3 -m venv --clear "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r "$root/tests/engines/requirements.txt"
    cp "$root/tests/engines/requirements.txt" "$venv/installed.txt"
fi
PATH=$venv/bin:$PATH
export MATURIN_PEP517_ARGS="--profile ${PROFILE:-dev}"
pip install --quiet --disable-pip-version-check --no-build-isolation --force-reinstall --no-deps "$root/crates/python"
cd "$venv"
exec timeout 3600 python "$root/tests/engines/run.py" $small "$program"
