#!/usr/bin/env bash
# The Python module of an installed copy, and its example. Called by `make check-python` and by
# tests/install.sh.
# usage: python.sh PREFIX
set -euo pipefail
cd "$(dirname "$0")/.."
prefix=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export PYTHONPATH="$prefix/lib/python3/dist-packages" PYTHONDONTWRITEBYTECODE=yes
export SLEWTIME_TOOL="$prefix/bin/slewtime"
python=${PYTHON:-/usr/bin/python3}

"$python" -m unittest discover -s tests/python >"$work/log" 2>&1 || { cat "$work/log"; exit 1; }
tail -n 3 "$work/log" | head -n 1

truck() { "$python" "$@" "$prefix/share/slewtime/examples/embed/truck.py" \
    "$prefix/share/slewtime/examples/daily.yaml" "$work/truck.png"; }
truck >"$work/out" || { echo "truck.py fails"; exit 1; }
grep -qx 'deploy: says deployed, elevation 43.50 deg' "$work/out" || { cat "$work/out"; exit 1; }
if "$python" -c 'import matplotlib' 2>/dev/null; then
    head -c 8 "$work/truck.png" | tail -c 7 | grep -q PNG || { echo "truck.py: no picture"; exit 1; }
fi
# without matplotlib it says so and is well
mkdir "$work/none"
echo 'raise ImportError("hidden by a test")' >"$work/none/matplotlib.py"
PYTHONPATH="$work/none:$PYTHONPATH" truck | grep -q '^no picture: matplotlib is not installed' ||
    { echo "truck.py does not say that matplotlib is missing"; exit 1; }

# elsewhere it takes the library that the system finds, unless the sizes of its structs are others
cp -r "$PYTHONPATH" "$work/other"
elsewhere() { LD_LIBRARY_PATH="$prefix/lib" PYTHONPATH="$work/other" "$python" -c 'import slewtime' 2>&1; }
elsewhere || { echo "the module does not find the library by its name"; exit 1; }
sed -i 's/\[ffi\.sizeof(/[8 + ffi.sizeof(/' "$work/other/slewtime/_library.py"
elsewhere >"$work/out" && { echo "the module takes a library of other structs"; exit 1; }
grep -q "^ImportError: slewtime: the library found is" "$work/out" || { cat "$work/out"; exit 1; }
echo "check-python: all good"
