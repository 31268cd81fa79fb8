#!/bin/sh
# build.sh MODULE.wasm - the page as one file on stdout: style, scripts, lessons and module inside.
#
# A page that is opened from a disk can't load one script from another, so the modules go in one
# after the other: each becomes a function that hands out what it exports, and an import becomes a
# look into what an earlier one handed out. `slewtime page` puts the truck in the place that is left.
set -eu
here=$(dirname "$0")
module=$1

# in the order in which they build on each other
scripts="dom frames units words machine truck outcome lens dial graph days controls stage player \
         link predict yaml owntruck motion exercise sheet"

exports() {
    sed -n -E 's/^export (async )?(function|const|class) ([A-Za-z0-9_]+).*/\3,/p' "$1" | tr '\n' ' '
}

inside() {
    echo "// ---- $1 ----"
    sed -E -e 's/^import \{/const {/' -e "s/^(.*)\} from '\.\/(.*)\.js';\$/\1} = module_\2;/" \
        -e 's/^export //' "$here/$1.js"
}

# the last one, main, hands out nothing
script() {
    for name in $scripts; do
        echo "const module_$name = (() => {"
        inside "$name"
        echo "return { $(exports "$here/$name.js")};"
        echo "})();"
    done
    inside main
}

# a line @PART@ stands for what is put there
while IFS= read -r line; do
    case $line in
    @STYLE@) cat "$here/style.css" ;;
    @LESSONS@) cat "$here/lessons.json" ;;
    @CHECKS@) cat "$here/checks.json" ;;
    @MODULE@) base64 -w 0 "$module" && echo ;;
    @SCRIPT@) script ;;
    *) printf '%s\n' "$line" ;;
    esac
done < "$here/page.html"
