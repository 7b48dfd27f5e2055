#!/usr/bin/env bash
# Builds everything and passes every test. From a bare Debian 12 it first installs what is missing. Lint and sanitizers
# take longer: deep-check.sh. Can be run again at any time; only what changed is built again.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

bash cmake/packages.sh check

step "Format"
find Source Tests -name '*.h' -print0 -o -name '*.cpp' -print0 | xargs -0 clang-format --dry-run -Werror

step "Build into build/release: the first time several times as long as the demo, and 300 MB"
cmake --preset release >/dev/null
cmake --build --preset release --parallel "$jobs"

shared=${TARRY_SHARED:-../shared}
[[ -d $shared ]] || echo "skipped: the tests that compare with shared material; none at $shared (set TARRY_SHARED)"
step "Tests"
# Without a screen: what needs one brings its own, and the result is the same on every machine.
env -u DISPLAY ctest --preset release --parallel "$jobs"
step "Done"
