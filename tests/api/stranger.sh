#!/bin/sh
# A stranger who has nothing but /openapi.json makes a client in another language and gets the same
# advice: a generator from PyPI (openapi-python-client, in an environment of its own under target/)
# writes a Python client from the served description; stranger.py asks with it and compares with
# what the program itself answers.
# Usage: tests/api/stranger.sh [PATH-OF-GUARDCELL]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
work=$root/target/stranger
venv=$work/venv
mkdir -p "$work"
[ -x "$venv/bin/openapi-python-client" ] || {
    python3 -m venv "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check 'openapi-python-client==0.29.1'
}
log=$work/server.log
"$program" serve --bind 127.0.0.1:0 --log json 2>"$log" &
server=$!
trap 'kill "$server" 2>/dev/null || true' EXIT
for _ in 1 2 3 4 5 6 7 8 9 10; do
    url=$(sed -n 's/.*\(http:\/\/[0-9.:]*\)\/.*/\1/p' "$log" | head -1)
    [ -n "$url" ] && break
    sleep 0.5
done
rm -rf "$work/guardcell_stranger"
# What it cannot read of the description it says and leaves out; stranger.py needs the rest.
PATH="$venv/bin:$PATH" "$venv/bin/openapi-python-client" generate --url "$url/openapi.json" \
    --meta none --output-path "$work/guardcell_stranger" >"$work/generator.log" 2>&1 || {
    cat "$work/generator.log"
    exit 1
}
PYTHONPATH=$work "$venv/bin/python" "$root/tests/api/stranger.py" "$program" "$url" "$root" "$work"
