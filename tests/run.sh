#!/bin/sh
# Runs the test programs that are named, as many at a time as there are processors, and counts what
# they report; fails if one fails.
# RUN_BY, if set, is what runs a program: an emulator with its options.
# cmocka prints "[==========] N test(s) run." and "[  PASSED  ] N test(s)." at the end of each.
passed=0 failed=0 broken=0
printf '%s\n' "$@" | xargs -P "$(nproc)" -I PROGRAM sh -c \
    'if $RUN_BY "$1" >"$1.log" 2>&1; then echo yes; else echo no; fi >"$1.ok"' run PROGRAM
for program in "$@"; do
    log=$program.log ok=$(cat "$program.ok")
    n=$(sed -n 's/^\[==========\].* \([0-9][0-9]*\) test(s) run\.$/\1/p' "$log" | tail -n 1)
    good=$(sed -n 's/^\[  PASSED  \] \([0-9][0-9]*\) test(s)\.$/\1/p' "$log" | tail -n 1)
    n=${n:-0} good=${good:-0}
    passed=$((passed + good))
    failed=$((failed + n - good))
    printf '%-44s %4d of %d passed\n' "${program#*/tests/}" "$good" "$n"
    if [ $ok = no ] || [ "$n" -eq 0 ]; then
        broken=$((broken + 1))
        cat "$log"
    fi
done
[ $broken -eq 0 ] || [ $failed -gt 0 ] || failed=$broken
echo
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
