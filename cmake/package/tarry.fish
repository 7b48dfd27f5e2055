# fish completion for tarry: commands and options are asked from tarry itself.
function __tarry_command
    for word in (commandline -opc)[2..]
        string match -q -- '-*' $word; or begin; echo $word; return; end
    end
end
function __tarry_commands
    tarry --help | sed -nE '/^Subcommands:/,/^$/s/^  ([a-z]+)  +(.*)/\1\t\2/p'
end
function __tarry_options
    tarry (__tarry_command) --help 2>/dev/null | sed -nE 's/^  (-[a-z], ?)?(--[a-z-]+).*/\2/p'
end
complete -c tarry -n 'test -z (__tarry_command)' -f -a '(__tarry_commands)'
complete -c tarry -n 'string match -q -- "-*" (commandline -ct)' -f -a '(__tarry_options)'
