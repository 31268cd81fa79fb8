#!/bin/sh
# The declarations of the public headers for lib/python/build.py, on stdout. Called by `make install`
# with the compiler's command.
#
# What other headers declare is left out by the line markers of the preprocessor. Python's reader of
# C knows no attributes and no sizeof in a constant: of SLEW_MACHINE_BYTES it gets what is added to
# sizeof(slew_machine).
set -eu
printf '%s\n' '#include <slewtime/slewtime.h>' \
    'enum { SLEW_DECLARED_VERSION = SLEW_VERSION_NUMBER };' |
    "$@" -std=c11 -DSLEW_API= -Iinclude -E - |
    awk '/^# [0-9]/ { ours = $3 ~ /slewtime\/|<stdin>/; next } ours' |
    sed 's/(int)sizeof(slew_machine) + //'
