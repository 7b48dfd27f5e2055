#!/usr/bin/env bash
# commands.sh CMAKE BUILD TEXT...: every command in the fenced blocks of the texts. Those of tarry are run in their order, in an
# empty folder, as a reader would; scripts and presets of the project, which take too long here, have to exist and be sound.
# A line may say the status that it ends with: '# ends with 4'. A command that nobody here knows how to try is a failure.
set -uo pipefail
cmake=$1 build=$2
shift 2
source=$(cd "$(dirname "$0")/../.." && pwd)
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
export PATH=$build:$PATH HOME=$place
unset DISPLAY
failures=0 tried=0
fail() { echo "FAILED: $*"; failures=$((failures + 1)); }
presets=$(cd "$source" && "$cmake" --list-presets | sed -nE 's/^ *"([a-z-]+)".*/\1/p')

try() {
    local line=$1 wanted=0 status=0
    [[ $line =~ \#\ ends\ with\ ([0-9]+) ]] && wanted=${BASH_REMATCH[1]}
    tried=$((tried + 1))
    case $line in
    "tarry "*)
        (cd "$place/work" && bash -c "$line") >"$place/said" 2>&1 || status=$?
        ((status == wanted)) || { fail "'$line' ends with $status, not $wanted:"; sed 's/^/    /' "$place/said"; }
        ;;
    "tarry-standalone "*) # its files have to be there; the window is tried by tests of its own
        local word
        for word in ${line#tarry-standalone }; do
            [[ $word == -* || -e $place/work/$word ]] || fail "'$line': no file $word at this point"
        done
        ;;
    "bash cmake/"* | "bash Tests/"*)
        local script
        script=$(cut -d' ' -f2 <<<"$line")
        [[ -e $source/$script ]] && bash -n "$source/$script" || fail "'$line': no such script, or a faulty one"
        ;;
    "tarry-accuracy "* | Tests/Bench/*) # the bench takes hours: its options have to be known
        local program=${line%% *} option
        [[ $program == tarry-accuracy ]] && program=Tests/Bench/accuracy/AccuracyMain.cpp
        for option in $(grep -oE -- '--[a-z-]+' <<<"$line"); do
            grep -q -- "$option" "$source/$program" || fail "'$line': $program does not know $option"
        done
        ;;
    *"cmake --preset "* | *"ctest --preset "*)
        local preset
        for preset in $(grep -oE -- '--preset [a-z-]+' <<<"$line" | cut -d' ' -f2); do
            grep -qx -- "$preset" <<<"$presets" || fail "'$line': no preset $preset"
        done
        ;;
    *"cmake --install build/"* | *"cmake --build build/"*"--target uninstall"*) ;; # package.install runs both
    *) fail "nobody tries '$line'" ;;
    esac
}

for text in "$@"; do
    rm -rf "$place/work"
    mkdir "$place/work"
    inside=no
    while IFS= read -r line; do
        case $line in
        '```text'*) inside=drawing ;;
        '```'*) [[ $inside == no ]] && inside=yes || inside=no ;;
        '' | '#'*) ;;
        *) [[ $inside == yes ]] && try "$line" ;;
        esac
    done <"$text"
done
((tried > 10)) || fail "only $tried commands found in: $*"
echo "$tried commands tried, $failures failed"
exit $((failures > 0))
