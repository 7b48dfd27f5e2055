#!/usr/bin/env bash
# Shows that the answer does not depend on the build: the command by GCC and Clang, debug and release, ten runs each, and
# the plugin ten times in a host, over the same made-up halls. The lags have to agree to 1e-9 s.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

halls=$(mktemp -d)
trap 'rm -rf "$halls"' EXIT
builds=()
for compiler in gcc:g++ clang:clang++; do
    for type in Release Debug; do
        build=build/same-${compiler%:*}-${type,,}
        if [[ -z $(command -v "${compiler#*:}") ]]; then
            echo "skipped: ${compiler#*:} is not installed"
            continue
        fi
        step "The command by ${compiler#*:}, $type"
        cmake -G Ninja -S . -B "$build" -DCMAKE_BUILD_TYPE=$type -DTARRY_PLUGIN=OFF -DTARRY_TESTS=OFF \
            -DCMAKE_C_COMPILER="${compiler%:*}" -DCMAKE_CXX_COMPILER="${compiler#*:}" >/dev/null
        cmake --build "$build" --parallel "$jobs" --target tarry
        builds+=("$build")
    done
done
for scene in player roll neighbour; do
    "${builds[0]}/tarry" hall -o "$halls/$scene" --scene $scene --seed 7 >/dev/null
done

step "Ten runs of each"
for hall in "$halls"/*; do
    for run in {1..10}; do
        for build in "${builds[@]}"; do
            "$build/tarry" measure "$hall/spot.wav" "$hall/room.wav" --json "$hall/$(basename "$build").$run.json" >/dev/null
        done
        # Built for the tests and the demo; without it the command alone is compared.
        plugin=build/release/Source/Plugin/Tarry_artefacts/Release/VST3/Tarry.vst3
        if [[ -x build/release/tarry-host && -e $plugin ]]; then
            build/release/tarry-host --plugin $plugin --spot "$hall/spot.wav" --room "$hall/room.wav" --offline \
                --set freezeWhenSettled=off --set measure=on --set-after measure=off --json "$hall/plugin.$run.json"
        fi
    done
done
python3 - "$halls" <<'EOF'
import json, pathlib, sys

for hall in sorted(pathlib.Path(sys.argv[1]).iterdir()):
    lags = {file.name: json.loads(file.read_text())["lag_ms"] for file in hall.glob("*.*.json")}
    apart = 1e-3 * (max(lags.values()) - min(lags.values()))
    print(f"{hall.name}: {len(lags)} runs, {min(lags.values()):.6f} ms, {apart:.1e} s apart")
    if len(lags) < 20 or apart > 1.0001e-9:
        sys.exit(f"{hall.name}: the runs do not agree to 1e-9 s: {lags}")
EOF
