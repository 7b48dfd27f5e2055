#!/usr/bin/env bash
# Shows that the answer does not depend on the build: command and plugin (the VST3, in a host) by GCC and Clang, debug and
# release, ten runs each over the same made-up halls. The lags have to agree to 1e-9 s.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

halls=$(mktemp -d)
trap 'rm -rf "$halls"' EXIT
builds=()
for compiler in gcc:g++ clang:clang++; do
    for type in Release Debug; do
        if [[ -z $(command -v "${compiler#*:}") ]]; then
            echo "skipped: ${compiler#*:} is not installed"
            continue
        fi
        step "Command and plugin by ${compiler#*:}, $type"
        build=build/same-${compiler%:*}-${type,,}
        cmake -G Ninja -S . -B "$build" -DCMAKE_BUILD_TYPE=$type -DTARRY_TESTS=OFF \
            -DCMAKE_C_COMPILER="${compiler%:*}" -DCMAKE_CXX_COMPILER="${compiler#*:}" >/dev/null
        cmake --build "$build" --parallel "$jobs" --target tarry Tarry_VST3
        builds+=("$build")
    done
done
cmake --build "${builds[0]}" --parallel "$jobs" --target tarry-host # plays them all
for scene in player roll neighbour; do
    "${builds[0]}/tarry" hall -o "$halls/$scene" --scene $scene --seed 7 >/dev/null
done

step "Ten runs of each"
for hall in "$halls"/*; do
    for run in {1..10}; do
        for build in "${builds[@]}"; do
            to="$hall/$(basename "$build").$run"
            "$build/tarry" measure "$hall/spot.wav" "$hall/room.wav" --json "$to.command.json" >/dev/null
            "${builds[0]}/tarry-host" --plugin "$build"/Source/Plugin/Tarry_artefacts/*/VST3/Tarry.vst3 \
                --spot "$hall/spot.wav" --room "$hall/room.wav" --offline \
                --set freezeWhenSettled=off --set measure=on --set-after measure=off --json "$to.plugin.json"
        done
    done
done
python3 - "$halls" $((20 * ${#builds[@]})) <<'END'
import json, pathlib, sys

for hall in sorted(pathlib.Path(sys.argv[1]).iterdir()):
    lags = {file.name: json.loads(file.read_text())["lag_ms"] for file in hall.glob("*.*.json")}
    apart = 1e-3 * (max(lags.values()) - min(lags.values()))
    print(f"{hall.name}: {len(lags)} runs, {min(lags.values()):.6f} ms, {apart:.1e} s apart")
    if len(lags) < int(sys.argv[2]) or apart > 1.0001e-9:
        sys.exit(f"{hall.name}: the runs do not agree to 1e-9 s: {lags}")
END
