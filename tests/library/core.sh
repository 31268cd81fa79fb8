#!/bin/sh
# The core, linked with libm alone, runs a full cycle as the whole library does, to the bit; a
# magnet, which it can't make a window of, is an error with a name.
set -eu
programs=$SLEWTIME_BUILD/tests/library
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
echo "[==========] Running 4 test(s)."
holds() {
    what=$1
    shift
    if "$@"; then passed=$((passed + 1)); else echo "[  FAILED  ] $what"; fi
}

"$programs/cycle_core" >"$work/core"
"$programs/cycle_whole" >"$work/whole"
holds "stowed and deployed by the core" grep -qx 'stowed, deployed' "$work/core"
holds "the same events, samples and figures" cmp "$work/core" "$work/whole"

status=0
"$programs/cycle_core" magnet >"$work/core" || status=$?
refused() { [ $status = 1 ] && grep -q '^SLEW_ERROR_MAGNET rotation.home.magnet: ' "$work/core"; }
holds "a magnet in the core is refused by name" refused
"$programs/cycle_whole" magnet >"$work/whole"
holds "a magnet in the whole library" grep -qx 'stowed, deployed' "$work/whole"

echo "[==========] 4 test(s) run."
echo "[  PASSED  ] $passed test(s)."
[ $passed = 4 ]
