#!/bin/sh
# Asks `guardcell mcp` with a client from PyPI, in an environment of its own under target/.
# Usage: tests/mcp/run.sh [PATH-OF-GUARDCELL]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
venv=$root/target/mcp
cmp -s "$root/tests/mcp/requirements.txt" "$venv/installed.txt" || {
    rm -rf "$venv"
    python3 -m venv "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r "$root/tests/mcp/requirements.txt"
    cp "$root/tests/mcp/requirements.txt" "$venv/installed.txt"
}
exec timeout 400 "$venv/bin/python" "$root/tests/mcp/client.py" "$program" "$root"
