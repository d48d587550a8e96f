#!/bin/sh
# Journeys through the page in real Chromium: needs node, npm, chromium and a built guardcell.
# Usage: tests/browser/run.sh [PATH-OF-GUARDCELL]; pictures go to target/browser.
# SCRIPT=engine.mjs runs those with the engine, whose folder ENGINE names (`cargo xtask wasm` writes it).
# ONLY=words runs the journeys whose name holds these words. SCRIPT=picture.mjs makes docs/page.webp.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
[ -x "$program" ] || { echo "no program at $program: cargo build -p guardcell-cli" >&2; exit 1; }
work=$root/target/browser-packages
mkdir -p "$work"
cp "$root"/tests/browser/*.mjs "$root"/tests/wasm/*.mjs "$root"/tests/browser/package*.json "$work/"
cd "$work"
# what was installed before for the same versions is good
if ! cmp -s package-lock.json installed-lock.json; then
    npm ci --no-audit --no-fund --no-update-notifier --loglevel=error
    cp package-lock.json installed-lock.json
fi
node "${SCRIPT:-journeys.mjs}" "$program" "$root/target/browser" "$root"
