#!/bin/sh
# A year in the house through the real program, for five seeds; options as of run.py.
# Usage: tests/year/run.sh [OPTIONS] [PROGRAM]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
program=
for last in "$@"; do program=$last; done
if [ -f "$program" ] && [ -x "$program" ]; then
    exec python3 "$here/run.py" "$@"
fi
program=${CARGO_TARGET_DIR:-$root/target}/release/guardcell
(cd "$root" && cargo build --release --locked -p guardcell-cli)
[ "$#" -gt 0 ] || set -- --seeds 1,2,3,4,5
exec python3 "$here/run.py" "$@" "$program"
