#!/bin/sh
# Solves the looped networks by SciPy and writes testdata/reference/loops_scipy.json.
# Usage: testdata/peers/loops/run.sh [answers file]
# Where SciPy is missing it installs Debian's python3-scipy, which needs root.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
python=/usr/bin/python3
"$python" -c 'import scipy' 2>/dev/null || {
	apt-get update -qq >&2
	apt-get install -y -qq python3-scipy >&2
}
cd "$here/../../.."
out=${1:-testdata/reference/loops_scipy.json}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
go run ./testdata/peers/loops >"$folder/networks.json"
PYTHONDONTWRITEBYTECODE=1 "$python" "$here/solve.py" "$folder/networks.json" >"$folder/answers.json"
mv "$folder/answers.json" "$out"
