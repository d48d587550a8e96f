#!/bin/sh
# Requests a second of a name look-up beside a bare axum echo of the same bytes, and the times of
# advice for one plant at 64 connections. Needs wrk and release builds:
#   cargo build --release -p guardcell-cli && cargo build --release -p guardcell-server --example echo
# Usage: tests/api/throughput.sh [FOLDER-OF-PROGRAMS] [SECONDS]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
programs=${1:-${CARGO_TARGET_DIR:-$root/target}/release}
seconds=${2:-10}
work=$(mktemp -d)
"$programs/guardcell" serve --bind 127.0.0.1:18427 --log none 2>/dev/null &
server=$!
trap 'kill $server ${echo:-} 2>/dev/null || true; rm -rf "$work"' EXIT
for _ in $(seq 50); do curl -sf http://127.0.0.1:18427/readyz >/dev/null && break || sleep 0.1; done
path=/v1/taxa/Cattleya%20labiata
curl -sf "http://127.0.0.1:18427$path" >"$work/body"
"$programs/examples/echo" 18428 "$work/body" &
echo=$!
for _ in $(seq 50); do curl -sf http://127.0.0.1:18428/ >/dev/null && break || sleep 0.1; done
rate() { wrk -t2 -c64 -d"${seconds}s" "$1" | sed -n 's/Requests\/sec: *//p'; }
for turn in 1 2 3; do
    echoed=$(rate "http://127.0.0.1:18428$path")
    looked=$(rate "http://127.0.0.1:18427$path")
    awk -v e="$echoed" -v l="$looked" -v b="$(wc -c <"$work/body")" \
        'BEGIN { printf "look-up %.0f/s, echo of its %d bytes %.0f/s: %.0f %%\n", l, b, e, 100 * l / e }'
done
python3 - "$root" "$work" <<'PY'
import json, pathlib, sys
root, work = map(pathlib.Path, sys.argv[1:])
one = json.loads((root / "schemas/examples/advice-request.json").read_text())["good"][0]
(work / "post.lua").write_text(
    'wrk.method = "POST"\nwrk.headers["content-type"] = "application/json"\nwrk.body = [==[' + json.dumps(one) + "]==]\n")
PY
echo "advice for one plant, 64 connections:"
wrk -t2 -c64 -d"${seconds}s" --latency -s "$work/post.lua" http://127.0.0.1:18427/v1/advice
