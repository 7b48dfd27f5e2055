# For the scripts beside it, which source it. Runs on bash 3.2 (macOS) and without nproc.
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1
jobs=$(getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2)
export NINJA_STATUS='[%f of %t, %es] '

# What a step is and how long all has taken so far.
step() { printf '\n== [%3ds] %s\n' "$SECONDS" "$*"; }
