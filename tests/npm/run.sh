#!/usr/bin/env bash
# The package for npm: packed, installed from its archive, checked by the compiler of TypeScript, asked
# in Node, and bundled. Needs an engine (`cargo xtask wasm --output target/engine`) and npm.
# Usage: tests/npm/run.sh [ENGINE-FOLDER]
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
engine=${1:-$root/target/engine}
work=$root/target/npm
rm -rf "$work/package" "$work/use"
mkdir -p "$work/use/src"
cd "$root"
${XTASK:-cargo xtask} npm --engine "$engine" --output "$work/package"
${XTASK:-cargo xtask} faults >"$work/faults.ndjson"
archive=$work/$(cd "$work/package" && npm pack --silent --pack-destination "$work")
cp tests/npm/package.json tests/npm/package-lock.json "$work/use/"
cp tests/npm/check.mjs tests/npm/types.ts "$work/use/src/"
cd "$work/use"
npm ci --silent --no-audit --no-fund
npm install --silent --no-audit --no-fund --no-save "$archive"
node src/check.mjs "$work/faults.ndjson"
npx tsc --noEmit --strict --target es2022 --module nodenext --lib es2022,dom src/types.ts
echo "types: accepted and refused as they must be"
cat >index.html <<'HTML'
<!doctype html><meta charset="utf-8"><title>bundled</title><script type="module" src="/src/page.js"></script>
HTML
cat >src/page.js <<'JS'
import { load } from "guardcell";
const guardcell = await load();
document.title = guardcell.convert({ quantity: "300 ppm", to: "mg/L" }).message;
JS
npx vite build --logLevel error --target esnext
module=$(echo dist/assets/engine_bg-*.wasm)
cmp "$module" "$engine/engine_bg.wasm"
grep -q "$(basename "$module")" dist/assets/index-*.js
echo "bundled: the module is beside the script under $(basename "$module")"
