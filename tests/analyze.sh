#!/bin/sh
# Asks three analyzers about library and tool: gcc -fanalyzer, clang --analyze, cppcheck. Fails on a
# finding. One that is wrong is argued where it stands: a comment that begins with `analyzer:`, on
# its line or on the one before, and says why.
#
#   sh tests/analyze.sh BUILD [FILE...]    BUILD has catalogue.inc; without FILE all of lib and cli
set -u
build=$1
shift
[ $# -gt 0 ] || set -- $(find lib cli -name '*.c' ! -path 'cli/page/module/*' | sort)
all=$(mktemp)
trap 'rm -f "$all"' EXIT
flags="-std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib -Icli -I$build/lib/scenario"
texts='-DSLEW_BUILD="" -DSLEW_PLOTS_DIR="" -DSLEW_PAGE=""'
for file; do
    # -O1: what is tested before is known to a function that is put into another
    nice gcc $flags $texts -O1 -fanalyzer -S -o /dev/null "$file" 2>&1
    nice clang $flags $texts --analyze --analyzer-output text "$file" 2>&1
done >>"$all"
nice cppcheck -q -j1 --std=c11 --enable=warning,portability,performance --max-configs=1 \
    -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib -Icli --template=gcc \
    --include=/usr/include/jansson.h "$@" >>"$all" 2>&1
grep -E '^[^ :]+:[0-9]+:[0-9]+: (warning|error|fatal error): |^(cc1|clang|cppcheck): ' "$all" | sort -u | {
    found=0 argued=0
    while IFS=: read -r file line rest; do
        before=$((line > 1 ? line - 1 : 1))
        if [ -f "$file" ] && sed -n "${before},${line}p" "$file" | grep -q '/\* analyzer: '; then
            argued=$((argued + 1))
        else
            found=$((found + 1))
            echo "$file:$line:$rest"
        fi
    done
    echo "analyzers: $found found, $argued argued in place"
    [ $found -eq 0 ]
}
