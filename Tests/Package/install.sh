#!/usr/bin/env bash
# install.sh CMAKE BUILD VERSION: installs the build into a folder of its own as a user would, works with what is there, and
# takes it back.
set -euo pipefail
cmake=$1 build=$2 version=$3
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
export HOME=$home
unset DISPLAY DESTDIR
prefix=$home/.local
failures=0
expect() { "${@:2}" >"$home/said" 2>&1 || { echo "FAILED: $1"; sed 's/^/    /' "$home/said"; failures=$((failures + 1)); }; }
has() { expect "$1 is not installed" test -s "$home/$1"; }

# The manifest of the machine's own installation is not this test's.
manifest=$build/install_manifest.txt
[[ -e $manifest ]] && mv "$manifest" "$home/manifest-of-before"
"$cmake" --install "$build" --prefix "$prefix" --strip >"$home/log" || { cat "$home/log"; exit 1; }
mv "$manifest" "$home/manifest"
[[ -e $home/manifest-of-before ]] && mv "$home/manifest-of-before" "$manifest"

for file in bin/tarry share/doc/tarry/{LICENSE,copyright,changelog.gz} share/tarry/Presets/low-drums.tarry \
    share/man/man1/tarry.1.gz share/bash-completion/completions/tarry share/zsh/site-functions/_tarry \
    share/fish/vendor_completions.d/tarry.fish; do
    has ".local/$file"
done

tarry=$prefix/bin/tarry
expect "tarry --version does not say $version" grep -q "^tarry $version" <("$tarry" --version)
expect "no hall" "$tarry" hall -o "$home/hall" --seed 7
expect "no measurement" "$tarry" measure "$home/hall/spot.wav" "$home/hall/room.wav"
expect "no print" "$tarry" print "$home/hall/spot.wav" "$home/hall/room.wav" -o "$home/aligned.wav"
has aligned.wav

# Every command and every option that tarry tells of is in its manual page.
page=$(gzip -dc "$prefix/share/man/man1/tarry.1.gz" | sed 's/\\-/-/g')
commands=$("$tarry" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[[ $(wc -w <<<"$commands") -ge 3 ]] || { echo "FAILED: tarry --help names too few commands: $commands"; failures=1; }
for command in $commands; do
    expect "the manual page has no command $command" grep -q "^.SS tarry $command\$" <<<"$page"
    for option in $("$tarry" "$command" --help | grep -oE '^  (-[a-z], ?)?--[a-z-]+' | grep -oE -- '--.*'); do
        expect "the manual page lacks $command $option" grep -qE -- "^\.B .*$option( |\$)" <<<"$page"
    done
done

# Completion: 'tarry mea', then 'tarry print --lag'.
export PATH=$prefix/bin:$PATH
complete() {
    bash -c 'source "$1"; COMP_WORDS=("${@:2}"); COMP_CWORD=$(($# - 2)); _tarry; printf "%s\n" "${COMPREPLY[@]}"' \
        - "$prefix/share/bash-completion/completions/tarry" "$@"
}
expect "bash does not complete 'tarry mea'" grep -qx measure <(complete tarry mea)
expect "bash does not complete 'tarry print --lag'" grep -qx -- --lag-ms <(complete tarry print --lag)
if command -v fish >/dev/null; then
    fished() { fish --no-config -c "source $prefix/share/fish/vendor_completions.d/tarry.fish; complete -C '$1'"; }
    expect "fish does not complete 'tarry mea'" grep -q '^measure' <(fished "tarry mea")
    expect "fish does not complete 'tarry print --lag'" grep -q -- '^--lag-ms' <(fished "tarry print --lag")
fi

if [[ -e $prefix/bin/tarry-standalone ]]; then
    expect "the VST3 is not installed" test -n "$(find "$home/.vst3/Tarry.vst3/Contents" -name Tarry.so)"
    has .lv2/Tarry.lv2/manifest.ttl
    has .lv2/Tarry-former.lv2/manifest.ttl
    has .local/share/applications/tarry.desktop
    has .local/share/icons/hicolor/scalable/apps/tarry.svg
    has .local/share/man/man1/tarry-standalone.1.gz
    expect "tarry-standalone --version does not say $version" \
        grep -q "^tarry-standalone $version" <("$prefix/bin/tarry-standalone" --version)
    if command -v lv2ls >/dev/null; then
        expect "LV2 hosts do not find the plugin" grep -qx "urn:tarry:plugin" <(LV2_PATH=$home/.lv2 lv2ls)
    fi
fi
expect "two names that differ by case only" test -z "$(sed 's|.*/||' "$home/manifest" | sort -uf | sort -f | uniq -di)"

expect "uninstall fails" "$cmake" "-DMANIFEST=$home/manifest" -P "$(dirname "$0")/../../cmake/Uninstall.cmake"
mkdir -p "$home/.vst3" "$home/.lv2" # without the plugin there are none
left=$(find "$prefix" "$home"/.vst3 "$home"/.lv2 -type f -o -type l -o -iname '*tarry*')
[[ -z $left ]] || { echo "FAILED: uninstall leaves $left"; failures=$((failures + 1)); }
exit $((failures > 0))
