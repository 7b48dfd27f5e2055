#!/usr/bin/env bash
# The whole job once: a made-up hall, the plugin in a host with the room on its side-chain, the command over the same
# files, and both answers beside the truth. From a bare Debian 12 it first installs what is missing and builds.
# Ends with status 0 only when plugin and command say the same and print the same samples.
#   demo.sh [SEED [SCENE]]: another hall (default 7, player)
# TARRY_BUILT=FOLDER: a build of release that is there already; nothing is installed or built. For the test package.demo.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
seed=${1:-7}
scene=${2:-player}
build=${TARRY_BUILT:-build/release}
demo=$build/demo
# Runs a command that says nothing unless it fails.
quietly() { "$@" >"$demo/log" 2>&1 || { cat "$demo/log" >&2; echo "Failed: $*" >&2; exit 1; }; }

rm -rf "$demo"
mkdir -p "$demo"
if [[ -z ${TARRY_BUILT:-} ]]; then
    bash cmake/packages.sh demo

    step "Building the command, the plugin and a host into build/release: the first time some 16 minutes of processor time, and 100 MB"
    # Without the tests, whose libraries a demo has no use for; but a build that has them keeps them.
    tests=OFF
    grep -qs '^TARRY_TESTS:BOOL=ON$' $build/CMakeCache.txt && tests=ON
    quietly cmake --preset release -DTARRY_TESTS=$tests
    cmake --build --preset release --parallel "$jobs" --target tarry Tarry_VST3 tarry-host
elif ! command -v sox >/dev/null; then
    echo "skipped: no program 'sox' here"
    exit 77
fi
plugin=$(find "$build/Source/Plugin/Tarry_artefacts" -name Tarry.vst3 | head -n 1)

step "A hall, made up: scene '$scene', seed $seed, the room microphone 35 feet (31.08 ms) further away than the spot"
quietly $build/tarry hall -o "$demo" --scene "$scene" --seed "$seed" --distance 10.98
# To float, exactly: a 24-bit print would be dithered, and could not be compared bit for bit with a host's output.
quietly sox -D "$demo/spot.wav" -e floating-point -b 32 "$demo/spot-float.wav"
mv "$demo/spot-float.wav" "$demo/spot.wav"

step "The plugin in a host, room on the side-chain: measures while the files play, then freezes"
quietly $build/tarry-host --plugin $plugin --spot "$demo/spot.wav" --room "$demo/room.wav" \
    --set freezeWhenSettled=off --set measure=on --set-after measure=off \
    --save-state "$demo/frozen.state" --json "$demo/plugin.json"

step "The plugin again, frozen as it was saved: prints the aligned spot"
quietly $build/tarry-host --plugin $plugin --spot "$demo/spot.wav" --room "$demo/room.wav" \
    --load-state "$demo/frozen.state" --offline --tail 0 --out "$demo/plugin.wav" --json "$demo/frozen.json"

step "The command over the same files: measures, then prints"
quietly $build/tarry measure "$demo/spot.wav" "$demo/room.wav" --json "$demo/command.json"
quietly $build/tarry print "$demo/spot.wav" "$demo/room.wav" -o "$demo/command.wav"

step "Both blends, to listen to: the spot low enough that the room is heard beside it"
quietly sox -D -m -v 0.25 "$demo/spot.wav" -v 0.7 "$demo/room.wav" "$demo/blend-as-recorded.wav"
quietly sox -D -m -v 0.25 "$demo/command.wav" -v 0.7 "$demo/room.wav" "$demo/blend-aligned.wav"

python3 cmake/demo.py "$demo"
