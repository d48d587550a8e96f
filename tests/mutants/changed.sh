#!/usr/bin/env bash
# Mutants of the lines of clock, film, advice and ledger that changed since a base, for a few
# minutes: changed.sh [BASE], MINUTES=3. Fails if one survives that docs/mutants.md does not list.
set -euo pipefail
cd "$(dirname "$0")/../.."
base=${1:-origin/main}
seconds=$((${MINUTES:-3} * 60))

skip() { echo "mutants skipped: $1"; exit 0; }
command -v cargo-mutants >/dev/null || skip "cargo-mutants is missing (cargo install cargo-mutants --locked)"
git rev-parse --verify --quiet "$base^{commit}" >/dev/null || skip "no commit $base"
since=$(git merge-base "$base" HEAD) || skip "no history in common with $base"
# On the base itself: what its last commit changed.
if [ "$since" = "$(git rev-parse HEAD)" ] && git diff --quiet HEAD; then
    since=$(git rev-parse --verify --quiet HEAD~1) || skip "no earlier commit"
fi

tree=$PWD/target/mutants
until=$((SECONDS + seconds))
failed=0
made=
for crate in clock film advice ledger; do
    mkdir -p "$tree"
    git diff "$since" -- "crates/$crate/src" > "$tree/$crate.diff"
    [ -s "$tree/$crate.diff" ] || continue
    left=$((until - SECONDS))
    [ "$left" -gt 0 ] || { echo "$crate: no time left"; continue; }
    # Once: copied again, everything in it would be compiled again.
    [ -n "$made" ] || tests/mutants/tree.sh "$tree"
    made=yes
    rm -rf "$tree/mutants.out"
    code=0
    timeout "$left" cargo mutants --dir "$tree" --in-place --in-diff "$tree/$crate.diff" \
        --package "guardcell-$crate" --test-package "guardcell-$crate,checks-$crate" --shuffle --baseline=skip \
        --timeout 120 --jobs 1 --colors never -- --lib --tests || code=$?
    case $code in
        0 | 2 | 3) ;;
        124) echo "$crate: stopped after $left s" ;;
        *) echo "$crate: cargo mutants failed with $code" >&2; exit 1 ;;
    esac
    [ -f "$tree/mutants.out/missed.txt" ] || continue
    while IFS= read -r mutant; do
        # Without line and column, and as a cell of a table, as docs/mutants.md lists it.
        listed=${mutant#*: }
        grep -qF "${listed//|/\\|}" docs/mutants.md && continue
        echo "not caught: $mutant" >&2
        failed=1
    done < "$tree/mutants.out/missed.txt"
done
exit "$failed"
