#!/bin/sh
# Installs the Python package into an environment of its own under target/ and checks it: pytest,
# doctests of the package and of the guide, mypy --strict, what mypy must find, the demo.
# The package is compiled without optimisation, so that it shares what the tests have compiled;
# PROFILE=release makes the one that people install.
# Usage: tests/python/run.sh
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
here=$root/tests/python
venv=$root/target/python
"$root/tests/venv.sh" "$venv" "$here/requirements.txt"
PATH=$venv/bin:$PATH
export MATURIN_PEP517_ARGS="--profile ${PROFILE:-dev}"
pip install --quiet --disable-pip-version-check --no-build-isolation --force-reinstall --no-deps "$root/crates/python"

cd "$venv"
timeout 900 python -m pytest -q -p no:cacheprovider "$here"
python - <<'END'
import doctest, guardcell, guardcell.demo, guardcell.error, guardcell.wire
options = doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL
ran = 0
for module in (guardcell, guardcell.demo, guardcell.error, guardcell.wire):
    failed, tried = doctest.testmod(module, optionflags=options)
    assert not failed, module
    ran += tried
assert ran >= 10, ran
print(f"{ran} examples of the package hold")
END
# The examples of the guide; a fence ends what an example prints.
sed 's/^```.*//' "$root/docs/guide/src/python.md" >"$venv/chapter.txt"
python - "$venv/chapter.txt" <<'END'
import doctest, sys
failed, tried = doctest.testfile(sys.argv[1], module_relative=False, optionflags=doctest.ELLIPSIS)
assert not failed and tried >= 8, (failed, tried)
print(f"{tried} examples of the guide hold")
END
mypy --strict --no-error-summary -p guardcell
mypy --strict --no-error-summary "$here/typed.py"
python "$here/typed.py"
found=$(mypy --strict --no-error-summary "$here/wrong.py" | grep -o '^[^ ]*wrong.py:[0-9]*' | sort -u | wc -l)
marks=$(grep -c '# wrong:' "$here/wrong.py")
[ "$found" = "$marks" ] || {
    echo "mypy found faults in $found lines of wrong.py, which has $marks" >&2
    exit 1
}
echo "mypy --strict: the package and a typed program hold, $marks faults are found"
python -m guardcell.demo
