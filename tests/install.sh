#!/usr/bin/env bash
# An installed copy serves other programs, wherever it is moved to, and leaves nothing behind.
# Called by `make check-install`.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
jobs=$(nproc)
first=$work/first prefix="$work/moved here"
say() { printf '%s\n' "$*"; }
fail() { say "check-install: $*"; exit 1; }
quiet() { "$@" >"$work/log" 2>&1 || { cat "$work/log"; fail "failed: $*"; }; }

quiet make -j"$jobs" PREFIX="$first" install
cp -r "$first" "$prefix"
quiet make PREFIX="$first" uninstall
left=$(find "$first" ! -type d)
[ -z "$left" ] || fail "make uninstall left $left"
say "uninstalled without a trace"

export PKG_CONFIG_PATH="$prefix/lib/pkgconfig" LD_LIBRARY_PATH="$prefix/lib"
# all that the examples need is what was installed
cp -r "$prefix/share/slewtime/examples/embed" "$work/embed"
flags() { pkg-config "$@" | sed 's/ *$//'; }
compile() { # [-static] source program flags: words of pkg-config, with quotes of its own
    local out=$1 source=$2
    shift 2
    eval "quiet ${CC:-cc} -std=c11 -O2 -Wall -Wextra -Werror -o '$out' '$source' $*"
}
for source in "$work"/embed/*.c; do
    name=$(basename "$source" .c)
    compile "$work/$name" "$source" "$(flags --cflags --libs slewtime)"
    compile "$work/$name-static" "$source" "$(flags --cflags slewtime)" -Wl,-Bstatic \
        "$(flags --libs slewtime)" -Wl,-Bdynamic "$(flags --static --libs slewtime)"
    readelf -d "$work/$name" | grep -q 'NEEDED.*libslewtime\.so\.[0-9]*\.[0-9]*\]' ||
        fail "$name does not need a library of one MAJOR.MINOR"
    readelf -d "$work/$name-static" | grep -q libslewtime && fail "$name-static needs the library"
done
example="$prefix/share/slewtime/examples/daily.yaml"
"$work/run_scenario" "$example" >"$work/out" || fail "run_scenario"
"$work/run_scenario-static" "$example" | cmp - "$work/out" || fail "the static program differs"
head -n 2 "$work/out"
compile "$work/cycle" tests/library/cycle.c "$(flags --cflags --libs slewtime-core)"
"$work/cycle" | tail -n 1
readelf -d "$work/cycle" | grep NEEDED | grep -vqE 'libm\.|libc\.|ld-' && fail "the core needs more than libm"

# the layout of other headers is refused
sed 's/^#define SLEW_VERSION_MINOR .*/#define SLEW_VERSION_MINOR 99/' "$prefix/include/slewtime/version.h" >"$work/version.h"
cat >"$work/layout.c" <<'C'
#include <slewtime/slewtime.h>
int main(void)
{
    const slew_layout layout = SLEW_LAYOUT;
    return slew_check_layout(&layout) == SLEW_OK ? 0 : 2;
}
C
compile "$work/layout" "$work/layout.c" "$(flags --cflags --libs slewtime)"
"$work/layout" || fail "its own layout is refused"
cp -r "$prefix/include" "$work/include"
cp "$work/version.h" "$work/include/slewtime/version.h"
compile "$work/layout" "$work/layout.c" "-I'$work/include'" "$(flags --libs slewtime)"
if "$work/layout"; then fail "another version's layout passes"; fi
say "layouts are told apart"

# the tool finds its pictures where they were installed, or where it is told
SLEWTIME_PLOTS="$prefix/share/slewtime/plots" "$prefix/bin/slewtime" run "$example" --require ok \
    --plot "$work/daily.svg" >/dev/null || fail "the picture of a run"

if command -v cmake >/dev/null; then
    cat >"$work/CMakeLists.txt" <<'CMAKE'
cmake_minimum_required(VERSION 3.13)
project(embed C)
find_package(slewtime 0.1 REQUIRED)
foreach(kind slewtime static core)
    add_executable(${kind} ${SOURCE_${kind}})
    target_link_libraries(${kind} slewtime::${kind})
endforeach()
CMAKE
    quiet cmake -S "$work" -B "$work/cmake" -DCMAKE_PREFIX_PATH="$prefix" \
        -DSOURCE_slewtime="$work/embed/run_scenario.c" -DSOURCE_static="$work/embed/run_scenario.c" \
        -DSOURCE_core="$PWD/tests/library/cycle.c"
    quiet cmake --build "$work/cmake"
    for kind in slewtime static; do
        "$work/cmake/$kind" "$example" | cmp - "$work/out" || fail "CMake's $kind"
    done
    "$work/cmake/core" >/dev/null || fail "CMake's core"
    sed -i 's/slewtime 0.1/slewtime 0.99/' "$work/CMakeLists.txt"
    if cmake -S "$work" -B "$work/cmake2" -DCMAKE_PREFIX_PATH="$prefix" >/dev/null 2>&1; then
        fail "CMake takes this version for 0.99"
    fi
    say "CMake finds it"
else
    say "CMake: not tried, it is not installed"
fi
say "check-install: all good"
