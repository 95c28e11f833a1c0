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
# The comparer must see a wrong optimum.
mkdir -p "$folder/spoiled"
cp "$folder/branched.lp" "$folder/spoiled"
sed -n -e '1p' -e '2s/,73800,/,73801,/p' "$folder/ours.csv" >"$folder/spoiled/ours.csv"
if node "$here/compare.mjs" "$folder/spoiled" >"$folder/said" 2>&1 || ! grep -q 'ours 73801, HiGHS 73800' "$folder/said"; then
	cat "$folder/said" >&2
	echo "the comparison does not see a wrong optimum" >&2
	exit 1
fi
