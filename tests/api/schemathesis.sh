#!/bin/sh
# Asks every path of the API what its description says it takes and what it says it refuses
# (schemathesis from PyPI, in an environment of its own under target/).
# Lines of JSON are beyond it: tests/tests/server_routes.rs asks the stream. The paths of paired devices
# need a folder, a code and a token: tests/tests/devices.rs asks them. What a device kept of a server's
# answers is read with codes that only a newer server knows, which the schema does not list:
# crates/ledger/tests/device_step.rs.
# Usage: tests/api/schemathesis.sh [PATH-OF-GUARDCELL]; EXAMPLES bounds the cases of each path.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
venv=$root/target/schemathesis
[ -x "$venv/bin/schemathesis" ] || {
    python3 -m venv "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r "$root/tests/api/requirements.txt"
}
log=$root/target/schemathesis-server.log
"$program" serve --bind 127.0.0.1:0 --log json 2>"$log" &
server=$!
trap 'kill "$server" 2>/dev/null || true' EXIT
for _ in 1 2 3 4 5 6 7 8 9 10; do
    url=$(sed -n 's/.*\(http:\/\/[0-9.:]*\)\/.*/\1/p' "$log" | head -1)
    [ -n "$url" ] && break
    sleep 0.5
done
cd "$root/target"
"$venv/bin/schemathesis" --config-file "$root/tests/api/schemathesis.toml" run "$url/openapi.json" \
    --url "$url" --exclude-path-regex '^/v1/(pair|folder|journal/(entries|device))$|/stream$' --phases examples,coverage,fuzzing --checks all \
    --max-examples "${EXAMPLES:-25}" --seed 1 --workers 1 --request-timeout 60
