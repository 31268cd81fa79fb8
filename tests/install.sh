#!/usr/bin/env bash
# An installed copy serves other programs, wherever it is moved to, and leaves nothing behind.
# Called by `make check-install`.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work" "build/install$work"' EXIT
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
quiet make PREFIX="$work/second" install
grep -q "$work/second/share/slewtime/plots" "$work/second/bin/slewtime" ||
    fail "a second install looks for its files where the first one stood"

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

# each example runs, linked either way, and says what its scenario leads to
says() { # program its-output-has: what comes on stdin goes to the program
    local name=$1 expected=$2
    cat >"$work/keys"
    "$work/$name" "$example" <"$work/keys" >"$work/out" || fail "$name"
    "$work/$name-static" "$example" <"$work/keys" | cmp - "$work/out" || fail "$name-static differs"
    grep -qE "$expected" "$work/out" || { cat "$work/out"; fail "$name does not say $expected"; }
    say "$name: $(grep -E "$expected" "$work/out" | tail -n 1)"
}
says own_controller '^own firmware stowed +[0-9.]+ +-?[0-9.]+ +-17\.' </dev/null
says many_days '^1000 days .*: 1000 deployed$' </dev/null
says fleet "^10000 trucks, 0 can't run: 10000 deployed, 9[0-9]{3} inside" </dev/null
"$work/fleet" "$example" 1 | cmp - "$work/out" || fail "fleet: the digits depend on the threads"
printf 's4md2h1c1k2 1r9999q' | says step_machine '13\.015 s +done'
grep -q 'fault .*cancelled' "$work/out" || fail "step_machine: c does not cancel"
says ten_lines '^deploy: says deployed, elevation 0\.7592 rad$' </dev/null

# the module finds the library where both were moved to; make check-python has its tests
if /usr/bin/python3 -c 'import cffi, numpy' 2>/dev/null; then
    /usr/bin/python3 tests/python/keyboard.py "$work/step_machine" "$example" || fail "step_machine"
    (unset LD_LIBRARY_PATH && bash tests/python.sh "$prefix") || fail "the Python module"
else
    say "Python: not tried, it is not installed (make deps-python)"
fi
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

# the schemas of all answers and of scenarios
for command in $("$prefix/bin/slewtime" --help | sed -n 's/^  \([a-z]*\) .*/\1/p') scenario; do
    "$prefix/bin/slewtime" schema "$command" >"$work/schema" 2>/dev/null || continue
    cmp "$work/schema" "$prefix/share/slewtime/schema/$command.json" || fail "the schema of $command"
done
[ "$(ls "$prefix/share/slewtime/schema" | wc -l)" -ge 16 ] || fail "schemas are missing"
say "schemas are installed"

for page in 1:slewtime 3:slewtime 5:slewtime-scenario; do
    "$prefix/bin/slewtime" manual "${page%:*}" >"$work/page"
    cmp "$work/page" "$prefix/share/man/man${page%:*}/${page#*:}.${page%:*}" || fail "manual page $page"
done
say "manual pages are installed"
"$prefix/bin/slewtime" completion bash | cmp - "$prefix/share/bash-completion/completions/slewtime" || fail "bash"
"$prefix/bin/slewtime" completion zsh | cmp - "$prefix/share/zsh/site-functions/_slewtime" || fail "zsh"
say "completions are installed"

SLEWTIME_FMU="$prefix/lib/slewtime/fmu.so" "$prefix/bin/slewtime" fmu "$example" --out "$work/daily.fmu" ||
    fail "an FMU"

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
        -DSOURCE_slewtime="$work/embed/ten_lines.c" -DSOURCE_static="$work/embed/ten_lines.c" \
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
