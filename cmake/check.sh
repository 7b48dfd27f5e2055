#!/usr/bin/env bash
# Builds everything and passes every check: format, lint, sanitizers, tests. From a bare Debian 12 it first installs what
# is missing. Can be run again at any time; only what changed is built again.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
jobs=$(nproc)
step() { printf '\n== [%3ds] %s\n' "$SECONDS" "$*"; }

bash cmake/packages.sh

step "Format"
find Source Tests -name '*.h' -print0 -o -name '*.cpp' -print0 | xargs -0 clang-format --dry-run -Werror

step "Build"
cmake --preset release >/dev/null
cmake --build --preset release --parallel "$jobs"

step "Lint the sources below the plugin"
cmake --preset tidy >/dev/null
cmake --build --preset tidy --parallel "$jobs"

# Where the kernel allows it without address randomisation, which older ThreadSanitizers do not bear.
fixed=()
setarch -R true 2>/dev/null && fixed=(setarch -R)
for sanitizer in asan tsan; do
    step "Core tests under $sanitizer"
    cmake --preset "$sanitizer" >/dev/null
    cmake --build --preset "$sanitizer" --parallel "$jobs" --target core-tests
    "${fixed[@]}" ctest --preset "$sanitizer" --parallel "$jobs" -R '^core-tests'
done

shared=${TARRY_SHARED:-../shared}
[[ -d $shared ]] || echo "skipped: the tests that compare with shared material; none at $shared (set TARRY_SHARED)"
step "Tests"
# Without a screen: what needs one brings its own, and the result is the same on every machine.
env -u DISPLAY ctest --preset release --parallel "$jobs"
