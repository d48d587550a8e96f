#!/bin/sh
# The same faulty requests through every face. Needs what tests/python/run.sh has installed.
# Usage: tests/faces/run.sh [PATH-OF-GUARDCELL]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
target=${CARGO_TARGET_DIR:-$root/target}
program=${1:-$target/debug/guardcell}
library=$target/debug/deps/libguardcell_c.so
[ -e "$library" ] || library=$target/debug/libguardcell_c.so
table=$root/target/faults.ndjson
cd "$root"
${XTASK:-cargo xtask} faults >"$table"
exec timeout 300 "$root/target/python/bin/python" tests/faces/run.py "$program" "$library" "$table"
