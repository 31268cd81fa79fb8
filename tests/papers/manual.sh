#!/bin/sh
# The manual pages are clean mdoc by mandoc's own judgement, and show every command, option, variable
# of the environment, key and public header.
set -eu
tool=$SLEWTIME_TOOL
if ! command -v mandoc >/dev/null; then
    echo "skipped: mandoc is not installed"
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
clean() { mandoc -Tlint -Wwarning "$work/$1" && [ -s "$work/$1" ]; }
# the lines of a list, no fewer than so many, all stand in the page as it is shown
shows() {
    mandoc -Tutf8 -Owidth=300 "$work/$1" | sed 's/.\x08//g' >"$work/shown"
    while read -r word; do
        grep -qF -e "$word" "$work/shown" || { echo "manual $1 lacks $word"; return 1; }
    done <"$2"
    [ "$(wc -l <"$2")" -ge "$3" ]
}

echo "[==========] Running 8 test(s)."
for section in 1 3 5; do
    "$tool" manual $section >"$work/$section"
    holds "section $section is clean" clean $section
done
"$tool" --help | sed -n '/^Commands:/,/^Examples:/s/^  \([a-z]*\) .*/\1/p' | grep -vx -e help -e slewtime |
    sed 's/^/slewtime /' >"$work/commands"
holds "every command" shows 1 "$work/commands" 17
sed 's/^slewtime //' "$work/commands" | while read -r command; do
    "$tool" help "$command" | sed -n 's/^  \(--[a-z-]*\) .*/\1/p'
done | sort -u >"$work/options"
holds "every option" shows 1 "$work/options" 40
grep -rhoE 'getenv\("SLEWTIME_[A-Z_]+"' cli --include=*.c | sed 's/.*"\(.*\)"/\1/' | sort -u >"$work/variables"
holds "every variable of the environment" shows 1 "$work/variables" 4
"$tool" keys | sed -n 's/^\([a-z][a-z_.0-9]*\) .*/\1/p' | grep -v '^key$' >"$work/keys"
holds "every key" shows 5 "$work/keys" 120
(cd include && ls slewtime/*.h) >"$work/headers"
holds "every header" shows 3 "$work/headers" 30

echo "[==========] 8 test(s) run."
echo "[  PASSED  ] $passed test(s)."
[ $passed = 8 ]
