#!/usr/bin/env bash
# Installs what packages.txt names for a purpose and this machine lacks (with sudo where not root); says before how much
# that is, and while it runs how far it has come. Silent when nothing is missing.
#   packages.sh [build|demo|check|deep|bench|package|windows]...   (default: check; build is always among them, deep includes check)
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
export LC_ALL=C DEBIAN_FRONTEND=noninteractive

parts=" build ${*:-check} "
case $parts in *" deep "*) parts="$parts check " ;; esac
case $parts in *" check "*) parts="$parts demo " ;; esac
part=
missing=()
while read -r line; do
    case $line in
    '' | '#'*) ;;
    '['*) part=${line#\[} part=${part%%\]*} ;;
    *)
        case $parts in *" $part "*) ;; *) continue ;; esac
        if command -v dpkg-query >/dev/null; then
            state=$(dpkg-query -W -f='${db:Status-Status}' "$line" 2>/dev/null) || state=absent
            [[ $state == installed ]] || missing+=("$line")
        fi
        ;;
    esac
done <cmake/packages.txt

if ! command -v apt-get >/dev/null; then
    echo "No apt-get here: cmake/packages.txt names what Tarry needs, as Debian calls it." >&2
    exit 0
fi
((${#missing[@]})) || exit 0

as_root=(env)
if ((EUID != 0)); then
    if ! command -v sudo >/dev/null; then
        echo "Missing packages, and neither root nor sudo to install them: apt-get install ${missing[*]}" >&2
        exit 1
    fi
    as_root=(sudo env)
fi
log=$(mktemp)
trap 'rm -f "$log"' EXIT
apt() {
    "${as_root[@]}" DEBIAN_FRONTEND=noninteractive LC_ALL=C apt-get -q -o Dpkg::Use-Pty=0 -o DPkg::Lock::Timeout=300 "$@" </dev/null 2>&1
}
failed() {
    tail -n 20 "$log" >&2
    echo "Could not install the packages; the lines above say why." >&2
    exit 1
}

step "Missing Debian packages: ${missing[*]}"
apt update >"$log" || failed
apt install --assume-no --no-install-recommends "${missing[@]}" >"$log" || true # 'no' is an error to apt
# "3 upgraded, 556 newly installed...", "Need to get 501 MB...", "After this operation, 2,043 MB of additional disk space..."
grep -E '^([0-9]+ upgraded|Need to get|After this)' "$log" | sed 's/^/   /' || failed
total=$(sed -nE 's/.* ([0-9]+) newly installed.*/\1/p' "$log")

# apt's own lines, counted: one line every few seconds.
apt install -y --no-install-recommends "${missing[@]}" | {
    fetched=0 unpacked=0 ready=0 told=$SECONDS
    while IFS= read -r line; do
        printf '%s\n' "$line" >>"$log"
        case $line in
        Get:*) fetched=$((fetched + 1)) ;;
        Unpacking*) unpacked=$((unpacked + 1)) ;;
        "Setting up"*) ready=$((ready + 1)) ;;
        esac
        if ((SECONDS - told >= 3)); then
            told=$SECONDS
            echo "   of ${total:-?} packages: fetched $fetched, unpacked $unpacked, set up $ready"
        fi
    done
} || failed
step "Packages installed"
