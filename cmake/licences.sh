#!/usr/bin/env bash
# Whether every file's copyright and licence can be told by machine, as the REUSE specification (3.0) asks. Its checker wants
# the licence's text in a folder LICENSES; ours is LICENSE, so it looks at a copy. Ends with 77 where the checker is absent.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
command -v reuse >/dev/null || { echo "skipped: no program 'reuse' here"; exit 77; }

copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
if [[ -e .git ]]; then
    git ls-files -z --cached --others --exclude-standard | while IFS= read -r -d '' file; do
        [[ -e $file ]] && printf '%s\0' "$file"
    done | tar --null -T - -cf - | tar -xf - -C "$copy"
else
    tar --exclude=./build --exclude=./demo -cf - . | tar -xf - -C "$copy"
fi
mkdir "$copy/LICENSES"
cp LICENSE "$copy/LICENSES/GPL-3.0-or-later.txt"
reuse --root "$copy" lint
