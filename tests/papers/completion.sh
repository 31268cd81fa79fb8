#!/usr/bin/env bash
# bash completes commands, the options of each, their words, keys and files by the tool's script; zsh
# finds no fault in the one for it, and calls it with the right words.
set -u
tool=$(realpath "$SLEWTIME_TOOL")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
touch 'truck one.yaml' times.csv
passed=0
holds() {
    what=$1
    shift
    if "$@"; then passed=$((passed + 1)); else echo "[  FAILED  ] $what"; fi
}
echo "[==========] Running 13 test(s)."

# shellcheck disable=SC1090 # written by the tool
source <("$tool" completion bash)
# completes EXPECTED WORD...: what bash offers for the last word, one a line
completes() {
    local expected=$1
    shift
    COMP_WORDS=(slewtime "$@") COMP_CWORD=$# COMPREPLY=()
    _slewtime
    [ "$(printf '%s\n' "${COMPREPLY[@]}" | sort)" = "$expected" ] && return
    printf 'offered: %s\n' "${COMPREPLY[@]}"
    return 1
}
lines() { printf '%s\n' "$@" | sort; }

holds "it is the completion of slewtime" grep -q -- '-F _slewtime slewtime' <(complete -p slewtime)
holds "a command" completes run ru
# shellcheck disable=SC2046 # words
holds "every command" completes "$(lines help $("$tool" --help |
    sed -n '/^Commands:/,/^Examples:/s/^  \([a-z]*\) .*/\1/p' | grep -vx -e help -e slewtime))" ''
for command in run keys fit; do
    # shellcheck disable=SC2046 # words
    holds "every option of $command" completes \
        "$(lines $("$tool" help $command | sed -n 's/^  \(--[a-z-]*\).*/\1/p'))" $command --
done
holds "the words of an option" completes deploy run x.yaml --only de
holds "keys after --set" completes "$(lines supply.feed.joint_resistance= supply.feed.joints=)" \
    run x.yaml --set supply.feed.joi
holds "keys after --vary" completes "supply.floor=" map x.yaml --vary supply.fl
holds "files, with blanks in them" completes "$(lines 'truck one.yaml' times.csv)" run t
holds "files after --trace" completes times.csv run x.yaml --trace tim
holds "the words of an operand" completes "$(lines scenario schema)" schema sc

# zsh's own functions are replaced by ones that print what they are called with
zsh_completes() {
    "$tool" completion zsh >_slewtime
    if ! command -v zsh >/dev/null; then
        echo "skipped: zsh is not installed"
        return
    fi
    zsh -n _slewtime || return 1
    local said
    said=$(zsh -f -c '_files() { print files }
        _describe() { shift $(( $# - 2 )); print $1 ${#${(P)2}} }
        compadd() { print ${@[-1]} }
        CURRENT=5 words=(slewtime run x.yaml --only "") PREFIX=; source ./_slewtime
        CURRENT=3 words=(slewtime run "") PREFIX=; _slewtime
        CURRENT=2 words=(slewtime "") PREFIX=; _slewtime')
    [ "$said" = "$(printf 'deploy\nfiles\ncommand %s' "$(($("$tool" --help |
        sed -n '/^Commands:/,/^Examples:/s/^  \([a-z]*\) .*/\1/p' | grep -vxc slewtime)))")" ] && return
    echo "zsh: $said"
    return 1
}
holds "zsh" zsh_completes

echo "[==========] 13 test(s) run."
echo "[  PASSED  ] $passed test(s)."
[ $passed = 13 ]
