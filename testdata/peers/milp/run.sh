#!/bin/sh
# Sets a general solver of mixed-integer programs beside optimize/core on the
# same models. Usage: run.sh [number of generated trees, default 50]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
folder=${TMPDIR:-/tmp}/wyewright-milp-$(id -u)
version=1.15.3
mkdir -p "$folder"
rm -f "$folder"/*.lp "$folder/ours.csv"
if ! npm install --no-save --no-audit --no-fund --prefix "$folder" "highs@$version" >&2; then
	echo "skipped: the npm package highs cannot be installed here" >&2
	exit 0
fi
cd "$here/../../.."
go test ./optimize/core -count=1 -run MILP -milp "$folder" -take "${1:-50}" -limit 60s >&2
node "$here/compare.mjs" "$folder"
