#!/bin/sh
# Asks three analyzers about library and tool: gcc -fanalyzer, clang --analyze, cppcheck. Fails on a
# finding. One that is wrong is argued where it stands: a comment that begins with `analyzer:`, on
# its line or on the one before, and says why.
#
#   sh tests/analyze.sh BUILD [FILE...]    BUILD has the *.inc files; without FILE all of lib and cli
set -u
build=$1
shift
for tool in gcc clang cppcheck; do
    command -v $tool >/dev/null || { echo "analyze: $tool is not installed: make deps-analyze"; exit 1; }
done
[ $# -gt 0 ] || set -- $(find lib cli -name '*.c' ! -path 'cli/page/module/*' | sort)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
flags="-std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib -Icli -Icli/fmu"
for folder in lib/scenario cli/schema cli/manual cli/fmu; do flags="$flags -I$build/$folder"; done
# -O1: what is tested before is known to a function that is put into another
printf '%s\n' "$@" | flags=$flags work=$work xargs -P "$(nproc)" -I FILE sh -c '
    texts="-DSLEW_BUILD=\"\" -DSLEW_PLOTS_DIR=\"\" -DSLEW_PAGE=\"\""
    { nice gcc $flags $texts -O1 -fanalyzer -S -o /dev/null "$1"
      nice clang $flags $texts --analyze --analyzer-output text "$1"; } \
        >"$work/$(echo "$1" | tr / -)" 2>&1' one FILE
nice cppcheck -q -j"$(nproc)" --std=c11 --enable=warning,portability,performance --max-configs=1 \
    -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib -Icli --template=gcc \
    --include=/usr/include/jansson.h "$@" >"$work/cppcheck" 2>&1
cat "$work"/* | grep -E '^[^ :]+:[0-9]+:[0-9]+: (warning|error|fatal error): |^(cc1|clang|cppcheck): ' | sort -u | {
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
