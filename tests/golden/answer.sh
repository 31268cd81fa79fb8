#!/bin/sh
# Writes one answer for write.sh:  answer.sh TOOL FOLDER 'NAME<tab>ARGUMENT<tab>ARGUMENT...'
# A gnuplot of its own on PATH keeps what the real one is given.
set -eu
tool=$1
out=$2
IFS='	'
set -f
set -- $3
unset IFS
folder=$out/$1
shift
rm -rf "$folder"
mkdir -p "$folder"
arguments=
for word; do
    case $word in
    picture.svg | trace.csv) word=$folder/$word ;;
    esac
    set -- "$@" "$word"
    arguments=$arguments.
done
shift ${#arguments}
bin=$(mktemp -d)
trap 'rm -rf "$bin"' EXIT
real=$(command -v gnuplot)
cat >"$bin/gnuplot" <<END
#!/bin/sh
mkdir -p "$folder/drawn"
cp * "$folder/drawn"
for word; do case \$word in -e) ;; *) printf '%s\n' "\${word##*/plots/}" ;; esac; done >"$folder/drawn/variables"
exec "$real" "\$@"
END
chmod +x "$bin/gnuplot"
code=0
PATH=$bin:$PATH "$tool" "$@" </dev/null >"$folder/stdout" 2>"$folder/stderr" || code=$?
echo $code >"$folder/code"
