# Turns the headers' comments into Doxygen's: a comment before a declaration is about it, one after
# code on its line is about what stands before it, and the first of a file is about the file. A
# comment on a line of its own between dashes only parts the header.
BEGIN { inside = 0 }
FNR == 1 { first = 1 }
{
    line = $0
}
!inside && line ~ /\/\* ----/ { print line; next }
!inside && (at = index(line, "/*")) > 0 {
    before = substr(line, 1, at - 1)
    rest = substr(line, at + 2)
    if (first) { mark = "/** @file\n *"; first = 0 }
    else if (before ~ /[^ \t]/) mark = "/**<"
    else mark = "/**"
    if (index(rest, "*/") == 0)
        inside = 1
    print before mark safe(rest)
    next
}
inside {
    if (index(line, "*/") > 0)
        inside = 0
    print safe(line)
    next
}
{ print line }

# what Doxygen would take for commands, tags or links
function safe(text) {
    gsub(/[@\\<>#&"%]/, "\\\\&", text)
    return text
}
