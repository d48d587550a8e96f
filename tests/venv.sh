#!/bin/sh
# Makes an environment of Python in a folder with the packages of a list, anew where the list changed.
# Usage: tests/venv.sh FOLDER REQUIREMENTS
set -eu
cmp -s "$2" "$1/installed.txt" && exit
rm -rf "$1"
python3 -m venv "$1"
"$1/bin/pip" install --quiet --disable-pip-version-check -r "$2"
cp "$2" "$1/installed.txt"
