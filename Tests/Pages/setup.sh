#!/usr/bin/env bash
# Installs what the pages' tests in a browser need, into build/pages: a driver for Debian's Chromium, the rules of
# accessibility, the checker of HTML. Needs node, npm and the npm registry; without them those tests are skipped.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
into=${TARRY_PAGES:-../../build/pages}
mkdir -p "$into"
cp package.json "$into"
npm install --prefix "$into" --ignore-scripts --no-audit --no-fund --loglevel=error
