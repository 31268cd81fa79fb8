#!/usr/bin/env bash
# What takes too long for every change; called by `make check-long`. Each step tells its seconds; the
# first that fails ends it.
set -euo pipefail
cd "$(dirname "$0")/.."
log=$(mktemp)
trap 'rm -f "$log"' EXIT
step() { # name, command
    local name=$1 began=$SECONDS
    shift
    if ! "$@" >"$log" 2>&1; then cat "$log"; echo "check-long: failed: $name"; exit 1; fi
    printf '%-46s %5d s  %s\n' "$name" $((SECONDS - began)) "$(grep -E ' passed|^# pass|^analyzers: |^branches taken' "$log" | tail -n 1)"
}
sanitized() {
    ASAN_OPTIONS=detect_leaks=0 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1 \
        make -j"$(nproc)" BUILD=build/sanitize CFLAGS="-O1 -g" \
        SANITIZE="-fsanitize=address,undefined -fno-sanitize-recover=all" check
}
foreign() { make deps-foreign && make -j"$(nproc)" "foreign-$1"; }
analyzed() { make deps-analyze && make analyze; }
fuzzed() { make deps-fuzz && make -j"$(nproc)" fuzz; }
step "every test under the sanitizers" sanitized
step "memory, disk, gnuplot and signals fail everywhere" make -j"$(nproc)" check-faults
step "every reader fuzzed for a minute" fuzzed
step "random scenarios" make -j"$(nproc)" check-random
step "big-endian: s390x, emulated" foreign s390x
step "words of 32 bits: i386" foreign i386
step "gcc -fanalyzer, clang --analyze, cppcheck" analyzed
step "the page in a browser ten times slower" env SLEWTIME_THROTTLE=10 make check-page
step "branches of library and tool that tests take" make -j"$(nproc)" coverage
