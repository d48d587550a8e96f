#!/bin/sh
# Asks `guardcell mcp` with a client from PyPI, in an environment of its own under target/.
# Usage: tests/mcp/run.sh [PATH-OF-GUARDCELL]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
venv=$root/target/mcp
"$root/tests/venv.sh" "$venv" "$root/tests/mcp/requirements.txt"
exec timeout 400 "$venv/bin/python" "$root/tests/mcp/client.py" "$program" "$root"
