# The first sentence of each public header as a pair of C texts: {"plan.h", "what to set, ..."},
{
    sub(/^\/\* */, "")
    sub(/^ \* ?/, "")
}
FNR == 1 { begun = 0; text = "" }
begun < 2 && match($0, /^[a-z]+\.h - /) {
    name = substr($0, 1, RLENGTH - 3)
    text = substr($0, RLENGTH + 1)
    begun = 1
} 
begun == 1 && !match($0, /^[a-z]+\.h - /) { text = text " " $0 }
begun == 1 && (text ~ /\. *(\*\/)?$/ || text ~ /\. *\*\/?/ || text ~ /\/$/) {
    sub(/ *\*\/.*/, "", text)
    sub(/ *\/$/, "", text)
    sub(/\. *$/, "", text)
    gsub(/["\\]/, "\\\\&", text)
    printf "{\"%s\", \"%s\"},\n", name, text
    begun = 2
}
