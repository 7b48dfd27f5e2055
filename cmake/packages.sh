#!/usr/bin/env bash
# Installs what packages.txt names and this machine lacks (with sudo where not root). Silent when nothing is missing.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"

if ! command -v apt-get >/dev/null; then
    echo "No apt-get here: see cmake/packages.txt for what Tarry needs." >&2
    exit 0
fi
missing=()
while read -r package; do
    state=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) || state=absent
    [[ $state == installed ]] || missing+=("$package")
done < <(grep -Ev '^(#|$)' packages.txt)
((${#missing[@]})) || exit 0

as_root=()
if ((EUID != 0)); then
    if ! command -v sudo >/dev/null; then
        echo "Missing packages, and neither root nor sudo to install them: apt-get install ${missing[*]}" >&2
        exit 1
    fi
    as_root=(sudo)
fi
echo "== Installing ${#missing[@]} Debian packages: ${missing[*]}"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
quietly() {
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive "$@" >"$log" 2>&1 </dev/null || {
        tail -n 20 "$log" >&2
        echo "Could not install them; the lines above say why." >&2
        exit 1
    }
}
quietly apt-get update
quietly apt-get install -y --no-install-recommends "${missing[@]}"
