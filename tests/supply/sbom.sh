#!/usr/bin/env bash
# The bill of materials against the schema of CycloneDX, by the validator of its own library.
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
work=$root/target/supply
mkdir -p "$work"
[ -e "$work/installed" ] || {
    python3 -m venv "$work/venv"
    "$work/venv/bin/pip" install --quiet --disable-pip-version-check 'cyclonedx-python-lib[json-validation]==11.12.0'
    touch "$work/installed"
}
(cd "$root" && cargo xtask sbom) >"$work/sbom.cdx.json"
"$work/venv/bin/python" - "$work/sbom.cdx.json" <<'PYTHON'
import json, sys
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

text = open(sys.argv[1]).read()
bill = json.loads(text)
error = JsonStrictValidator(SchemaVersion.from_version(bill["specVersion"])).validate_str(text)
names = {c["name"] for c in bill["components"]}
if error:
    sys.exit(str(error))
assert {"serde", "jiff", "axum"} <= names and len(names) > 100, f"only {len(names)} components"
print(f"{len(bill['components'])} components, valid against CycloneDX {bill['specVersion']}")
PYTHON
