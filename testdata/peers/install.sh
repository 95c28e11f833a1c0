#!/bin/sh
# Installs the pinned engine outside the repository and prints the folder.
# Usage: install.sh [folder]
set -eu
version=0.9.0
folder=${1:-${TMPDIR:-/tmp}/wyewright-peers-$(id -u)}
mkdir -p "$folder"
npm install --no-save --no-audit --no-fund --prefix "$folder" "epanet-js@$version" >&2
echo "$folder"
