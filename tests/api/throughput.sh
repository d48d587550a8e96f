#!/bin/sh
# Speed of the server as ratios and times, on this machine, the callers on the same cores.
#
# 1. Look-ups and conversions: requests a second at 64 connections beside a bare axum echo of the same
#    bytes (closed loop: each connection asks again as soon as it has its answer), and the processor
#    time of each server for one request, which other work on the machine disturbs less than the rate.
#    Bars: a look-up reaches half of the echo, a conversion a third.
# 2. Advice for one plant, closed loop at 64 connections: all 64 are always waiting, so a time here
#    is mostly the queue: with C cores and W ms of work an answer cannot come within less than
#    64 W / C ms on average. It says how fast the server is at its limit.
# 3. Advice for one plant at a fixed rate (half and four fifths of that limit), times counted from
#    when each request was due: what a caller sees while the server keeps up.
#
# Needs wrk and release builds:
#   cargo build --release -p guardcell-cli && cargo build --release -p guardcell-server --examples
# Usage: tests/api/throughput.sh [FOLDER-OF-PROGRAMS] [SECONDS]
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
programs=${1:-${CARGO_TARGET_DIR:-$root/target}/release}
seconds=${2:-10}
work=$(mktemp -d)
port=${PORT:-18427}
echo_port=$((port + 1))
"$programs/guardcell" serve --bind "127.0.0.1:$port" --log none 2>/dev/null &
server=$!
trap 'kill $server ${echo:-} 2>/dev/null || true; rm -rf "$work"' EXIT
for _ in $(seq 50); do curl -sf "http://127.0.0.1:$port/readyz" >/dev/null && break || sleep 0.1; done
kill -0 "$server" # another program may answer on this port
path=/v1/taxa/Cattleya%20labiata
curl -sf "http://127.0.0.1:$port$path" >"$work/body"
"$programs/examples/echo" "$echo_port" "$work/body" &
echo=$!
for _ in $(seq 50); do curl -sf "http://127.0.0.1:$echo_port/" >/dev/null && break || sleep 0.1; done

# Processor time of a process so far, in clock ticks.
ticks() { sed 's/.*) //' "/proc/$1/stat" | awk '{ print $12 + $13 }'; }
# Requests a second and microseconds of processor time for each: load PORT PROCESS PATH [SCRIPT]
load() {
    before=$(ticks "$2")
    wrk -t2 -c64 -d"${seconds}s" ${4:+-s "$4"} "http://127.0.0.1:$1$3" >"$work/wrk"
    awk -v t=$(($(ticks "$2") - before)) -v hz="$(getconf CLK_TCK)" \
        '/requests in/ { n = $1 } /Requests\/sec/ { r = $2 } END { printf "%.0f %.2f", r, 1e6 * t / hz / n }' "$work/wrk"
}
# compare WHAT PATH [SCRIPT]
compare() {
    for turn in 1 2 3; do
        echoed=$(load "$echo_port" "$echo" "$2" "${3:-}")
        asked=$(load "$port" "$server" "$2" "${3:-}")
        echo "$echoed $asked" | awk -v what="$1" '{
            printf "%s %.0f/s, %.2f µs; echo %.0f/s, %.2f µs: %.0f %% of its rate, %.0f %% per processor time\n",
                what, $3, $4, $1, $2, 100 * $3 / $1, 100 * $2 / $4 }'
    done
}
cat >"$work/convert.lua" <<'LUA'
wrk.method = "POST"
wrk.headers["content-type"] = "application/json"
wrk.body = '{"quantity": "120 ppm P2O5", "to": "ppm P"}'
LUA
compare "look-up" "$path"
compare "conversion" /v1/conversions "$work/convert.lua"

python3 - "$root" "$work" <<'PY'
import json, pathlib, sys
root, work = map(pathlib.Path, sys.argv[1:])
one = json.loads((root / "crates/advice/calls/advise.json").read_text())
(work / "request.json").write_text(json.dumps(one))
(work / "post.lua").write_text(
    'wrk.method = "POST"\nwrk.headers["content-type"] = "application/json"\nwrk.body = [==[' + json.dumps(one) + "]==]\n")
PY
echo "advice for one plant, 64 connections that never pause (times are mostly the queue):"
before=$(ticks "$server")
wrk -t2 -c64 -d"${seconds}s" --latency -s "$work/post.lua" "http://127.0.0.1:$port/v1/advice" >"$work/wrk"
grep -E '50%|90%|99%|Requests/sec|Non-2xx' "$work/wrk"
awk -v t=$(($(ticks "$server") - before)) -v hz="$(getconf CLK_TCK)" \
    '/requests in/ { printf "  processor time of the server for one: %.0f µs\n", 1e6 * t / hz / $1 }' "$work/wrk"
limit=$(sed -n 's/Requests\/sec: *//p' "$work/wrk")
for share in 0.5 0.8; do
    rate=$(awk -v l="$limit" -v s=$share 'BEGIN { printf "%.0f", l * s }')
    echo "advice for one plant, 64 connections, $share of that rate:"
    "$programs/examples/paced" "127.0.0.1:$port" /v1/advice "$work/request.json" 64 "$rate" "$seconds"
done
