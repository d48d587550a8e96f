#!/usr/bin/env bash
# A small workspace in the folder given: the four crates that judge, what they are made of, and
# the checks of tests/tests/ that belong to them. A mutant builds in seconds there, because
# neither the server nor the program is compiled and linked again.
set -euo pipefail
tree=${1:?usage: tree.sh FOLDER}
root=$(cd "$(dirname "$0")/../.." && pwd)
crates="error call units reference solution film clock advice ledger guardcell journal"

rm -rf "$tree/crates" "$tree/data" "$tree/demo-data" "$tree/oracle" "$tree/checks-"* \
    "$tree/true" "$tree"/mutants-*.json
mkdir -p "$tree/crates"
for crate in $crates; do cp -r "$root/crates/$crate" "$tree/crates/"; done
cp -r "$root/data" "$root/demo-data" "$tree/"
cp "$root/README.md" "$root/Cargo.lock" "$tree/"
cp -r "$root/tests/oracle" "$tree/"

members='"data"'
for crate in $crates; do members="$members, \"crates/$crate\""; done
for crate in clock film advice ledger; do members="$members, \"checks-$crate\""; done
{
    printf '[workspace]\nresolver = "3"\nmembers = [%s]\n' "$members"
    sed -n '/^\[workspace.package\]/,$p' "$root/Cargo.toml"
    # Compiled once and run hundreds of times.
    printf '[profile.test]\ndebug = false\n'
    for crate in units reference clock advice; do
        printf '[profile.dev.package.guardcell-%s]\nopt-level = 1\n' "$crate"
    done
} > "$tree/Cargo.toml"

# The checks, with a facade that holds no more than they use.
checks() { # checks CRATE [OTHER CRATES]
    local dir="$tree/checks-$1" uses="$*"
    mkdir -p "$dir/src" "$dir/tests"
    local files="$root/tests/tests/$1_*.rs"
    [ "$1" != ledger ] || files="$root/tests/tests/journal_ledger.rs"
    cp $files "$dir/tests/"
    ln -s ../oracle "$dir/oracle"
    {
        printf '[package]\nname = "checks-%s"\nversion = "0.0.0"\nedition.workspace = true\n' "$1"
        printf '[lib]\nname = "guardcell"\ndoctest = false\ntest = false\n[dependencies]\n'
        for crate in $uses; do printf 'guardcell-%s.workspace = true\n' "$crate"; done
        printf 'jiff = { workspace = true, features = ["tzdb-bundle-always"] }\n'
        printf '[dev-dependencies]\n'
        for crate in csv serde serde_json proptest toml; do printf '%s.workspace = true\n' "$crate"; done
    } > "$dir/Cargo.toml"
    for crate in $uses; do printf 'pub use guardcell_%s as %s;\n' "$crate" "$crate"; done \
        > "$dir/src/lib.rs"
}
checks clock units
checks film units reference
checks advice clock reference
checks ledger advice reference
printf 'guardcell-journal.workspace = true\ntempfile.workspace = true\n' >> "$tree/checks-ledger/Cargo.toml"
