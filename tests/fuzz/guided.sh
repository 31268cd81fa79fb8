#!/bin/sh
# Lets libFuzzer look for inputs that reach more of the code, or break it: guided.sh BUILD SECONDS
# TARGET... What reached more is kept in BUILD/corpus/TARGET and begun with the next time. A finding
# ends its target, with the input in BUILD/found, and fails.
set -u
build=$1 seconds=$2
shift 2
failed=0 inputs=0
mkdir -p "$build/found"
# a failed assertion is a finding
export CMOCKA_TEST_ABORT=1 UBSAN_OPTIONS=print_stacktrace=1
figure() { # name, file
    sed -n "s/^stat::$1: *//p" "$2"
}
for target in "$@"; do
    own=$build/corpus/$target log=$build/$target.log
    mkdir -p "$own"
    if ! "$build/tests/fuzz/$target" -max_total_time="$seconds" -timeout=10 -print_final_stats=1 \
        -artifact_prefix="$build/found/$target-" "$own" "tests/fuzz/corpus/$target" >"$log" 2>&1; then
        tail -n 40 "$log"
        echo "fuzz: $target: the input is in $build/found; its end is above, all of it in $log"
        failed=1
        continue
    fi
    count=$(figure number_of_executed_units "$log")
    inputs=$((inputs + count))
    printf '%-10s %9d inputs, %6d a second, %6d branches reached, %s MB\n' "$target" \
        "$count" "$(figure average_exec_per_sec "$log")" \
        "$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$log" | tail -n 1)" "$(figure peak_rss_mb "$log")"
done
[ $failed -ne 0 ] || echo "$# targets passed with $inputs inputs"
exit $failed
