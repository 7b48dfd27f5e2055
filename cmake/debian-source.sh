#!/usr/bin/env bash
# Unpacks Debian's source of a package into FOLDER, from where this machine gets its packages, with Debian's patches where
# those are to be had as well. The machine's own lists stay as they are. Ends with 77 where there is no source.
#   debian-source.sh PACKAGE FOLDER
set -euo pipefail
mkdir -p "$2"
cd "$2"
places=$(dirname "$PWD")/debian-sources # shared by all that is fetched side by side
apt=(apt-get -q -o Dir::Etc::SourceList="$places.list" -o Dir::Etc::SourceParts=/dev/null -o Dir::State::Lists="$places")
{
    if [[ ! -s $places.list ]]; then
        mkdir -p "$places/partial"
        apt-get indextargets --format 'deb-src $(REPO_URI) $(RELEASE) $(COMPONENT)' 'Created-By: Packages' 'Origin: Debian' |
            sort -u >"$places.list"
        "${apt[@]}" update || { rm -f "$places.list"; exit 77; }
    fi
    "${apt[@]}" source --download-only "$1" || echo "Not all of $1's source could be had"
    original=$(echo *.orig.tar.*[z2])
    [[ -e $original ]] || exit 77
    tar -xf "$original" --strip-components=1
    for changes in *.debian.tar.*; do
        [[ -e $changes ]] || break
        tar -xf "$changes"
        [[ -e debian/patches/series ]] || break
        sed -E '/^ *(#|$)/d' debian/patches/series | while read -r patch _; do patch -p1 -i "debian/patches/$patch"; done
    done
} >&2
