#!/usr/bin/env bash
# What check.sh leaves out because it takes long: clang-tidy below the plugin, the core's tests under ASan/UBSan and TSan.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

bash cmake/packages.sh deep

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
    ${fixed[@]+"${fixed[@]}"} ctest --preset "$sanitizer" --parallel "$jobs" -R '^core-tests'
done
