#!/bin/sh
# What the shared library shows is what the public headers declare: not a symbol more or less.
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failed=0
echo "[==========] Running 2 test(s)."

for header in include/slewtime/*.h; do
    echo "#include \"$header\""
done >"$work/all.c"
# declarations end with a semicolon; the first name before a parenthesis is what they declare
${CC:-cc} -std=c11 -E -P -Iinclude -I. "$work/all.c" |
    awk 'BEGIN { RS = ";" } !/typedef/ && match($0, /slew_[a-z0-9_]+[ \n]*\(/) {
             print substr($0, RSTART, RLENGTH) }' |
    tr -d '( ' | sed '/^$/d' | sort -u >"$work/declared"
nm -D --defined-only "$SLEWTIME_BUILD"/libslewtime.so.* | awk '{ print $NF }' | sort -u >"$work/shown"
echo "$(wc -l <"$work/declared") functions are declared, $(wc -l <"$work/shown") symbols shown"
[ -s "$work/declared" ] || exit 1

none() {
    if [ -s "$1" ]; then
        echo "[  FAILED  ] $2"
        cat "$1"
        failed=$((failed + 1))
    fi
}
comm -13 "$work/declared" "$work/shown" >"$work/many"
comm -23 "$work/declared" "$work/shown" >"$work/few"
none "$work/many" "shown, but in no public header:"
none "$work/few" "declared without SLEW_API, or never written:"

echo "[==========] 2 test(s) run."
echo "[  PASSED  ] $((2 - failed)) test(s)."
[ $failed -eq 0 ]
