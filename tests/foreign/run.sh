#!/bin/sh
# run.sh CPU ROOT FOLDERS PROGRAM...: runs the test programs of a foreign machine whose libraries are in
# FOLDERS (with colons) below ROOT. An x86-64 runs those of i386 itself, where its kernel lets it;
# otherwise qemu-user emulates the machine, and tests that only sample take fewer (tests/support.h).
set -eu
cpu=$1 root=$2 folders=$3
shift 3
loader=$root/lib/ld-linux.so.2
if [ "$cpu" = i386 ] && "$loader" --version >/dev/null 2>&1; then
    RUN_BY="$loader --library-path $folders"
else
    RUN_BY="qemu-$cpu -L $root -E LD_LIBRARY_PATH=$folders"
    export SLEWTIME_EMULATED=1
fi
export RUN_BY
exec sh tests/run.sh "$@"
