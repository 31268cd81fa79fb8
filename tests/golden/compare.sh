#!/bin/sh
# Names what differs between two folders that write.sh has written:
#
#   sh tests/golden/compare.sh OLD NEW
#
# The hash of a scenario and the titles that gnuplot gives to curves of an SVG are masked. "digits": only numbers differ, and by no more than the ninth digit. Fails when anything else differs.
set -eu
old=$(realpath "$1") new=$(realpath "$2")
lists=$(mktemp -d)
trap 'rm -rf "$lists"' EXIT
(cd "$old" && find . -type f | sort) >"$lists/old"
(cd "$new" && find . -type f | sort) >"$lists/new"
comm -23 "$lists/old" "$lists/new" | sed 's/^/gone     /' | tee -a "$lists/differs"
comm -13 "$lists/old" "$lists/new" | sed 's/^/new      /' | tee -a "$lists/differs"
mask() { sed -E "s/\b[0-9a-f]{16}\b/HASH/g; s#$1/##g; s#<title>[^<]*</title>##" "$1/$2"; }
comm -12 "$lists/old" "$lists/new" | while read -r file; do
    cmp -s "$old/$file" "$new/$file" && continue
    mask "$old" "$file" >"$lists/a"
    mask "$new" "$file" >"$lists/b"
    cmp -s "$lists/a" "$lists/b" && continue
    case $file in *.svg) fine=0.011 ;; *) fine=6e-10 ;; esac # a hundredth of a pixel
    if paste -d "$(printf '\001')" "$lists/a" "$lists/b" | awk -F '\001' -v fine=$fine '
        function words(line, word) { gsub(/[,:"\[\]{}()= ]+/, " ", line); return split(line, word, " ") }
        function number(w) { return w ~ /^[-+]?[0-9.]+([eE][-+]?[0-9]+)?$/ }
        function alike(a, b) { d = a - b; s = a < 0 ? -a : a; return (d < 0 ? -d : d) <= 6e-9 * s + fine }
        {
            n = words($1, x); if (words($2, y) != n) exit 1
            for (i = 1; i <= n; i++)
                if (x[i] != y[i] && !(number(x[i]) && number(y[i]) && alike(x[i] + 0, y[i] + 0))) exit 1
        }'; then
        echo "digits   $file"
    else
        echo "differs  $file" | tee -a "$lists/differs"
    fi
done
if [ -s "$lists/differs" ]; then
    echo "$(wc -l <"$lists/differs") differ in more than digits"
    exit 1
fi
echo "the same"
