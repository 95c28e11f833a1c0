#!/bin/sh
# Installs the engine, times both solvers on the same trees and prints the table.
# Usage: testdata/peers/run.sh [folder for the package and the trees]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
folder=$("$here/install.sh" "$@")
cd "$here/../.."
go run ./testdata/peers/trees "$folder/trees" >"$folder/ours.jsonl"
node "$here/bench.mjs" "$folder" "$folder/trees" "$folder/ours.jsonl"
