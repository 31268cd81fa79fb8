#!/bin/sh
# Writes every answer of every command on every example, in every form, into a folder:
#
#   sh tests/golden/write.sh TOOL FOLDER
#
# Each answer is a folder of its own, COMMAND/EXAMPLE/FORM, with what was on stdout and stderr, the
# exit code, and for a picture what gnuplot was given (its data files and variables) and the picture.
# `make golden` calls it; compare.sh tells two such folders apart.
set -eu
[ $# = 2 ] || { echo "usage: write.sh TOOL FOLDER" >&2; exit 2; }
tool=$(realpath "$1")
mkdir -p "$2"
out=$(realpath "$2")
here=$(realpath "$(dirname "$0")")
cd "$here/../.."

list=$(mktemp)
trap 'rm -f "$list"' EXIT
sh "$here/asks.sh" >"$list"

cut -d/ -f1 "$list" | sort -u | while read -r command; do rm -rf "${out:?}/$command"; done
xargs -a "$list" -d '\n' -P "$(nproc)" -n 1 sh "$here/answer.sh" "$tool" "$out"
echo "$(wc -l <"$list") answers in $2"
