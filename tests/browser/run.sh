#!/bin/sh
# Journeys through the page in real Chromium: needs node, npm, chromium and a built guardcell.
# Usage: tests/browser/run.sh [PATH-OF-GUARDCELL]; pictures go to target/browser.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
program=${1:-${CARGO_TARGET_DIR:-$root/target}/debug/guardcell}
work=$root/target/browser-packages
mkdir -p "$work"
cp "$root/tests/browser/package.json" "$root/tests/browser/journeys.mjs" "$work/"
[ -d "$work/node_modules/playwright-core" ] || (cd "$work" && npm install --no-audit --no-fund --silent)
cd "$work"
node journeys.mjs "$program" "$root/target/browser"
