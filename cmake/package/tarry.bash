# bash completion for tarry: commands and options are asked from tarry itself.
_tarry() {
    local word=${COMP_WORDS[COMP_CWORD]} program=${COMP_WORDS[0]} command= i words
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
        -*) ;;
        *) command=${COMP_WORDS[i]} && break ;;
        esac
    done
    if [[ $word == -* ]]; then
        words=$("$program" ${command:+"$command"} --help 2>/dev/null | sed -nE 's/^  (-[a-z], ?)?(--[a-z-]+).*/\2/p')
    elif [[ -z $command ]]; then
        words=$("$program" --help 2>/dev/null | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
    else
        COMPREPLY=($(compgen -f -- "$word"))
        return
    fi
    COMPREPLY=($(compgen -W "$words" -- "$word"))
}
complete -o filenames -F _tarry tarry
