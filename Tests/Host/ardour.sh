#!/bin/bash
# Tarry in Ardour 7 without its window: rendered while measuring, one hit looped, measured and frozen, rendered, reopened
# and looped, presets with another latency chosen while it plays. Usage: ardour.sh VST3|LV2 BUNDLE-FOLDER TARRY
# Ends with 77 (skipped) where there is no Ardour 7 or sox.
set -u
here=$(cd "$(dirname "$0")" && pwd) format=$1 bundles=$(cd "$2" && pwd) tarry=$3
for tool in ardour7-lua ardour7-export sox soxi; do
    command -v $tool > /dev/null || { echo "SKIPPED: no $tool"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HOME=$work VST3_PATH=$bundles LV2_PATH=$bundles:/usr/lib/lv2 # Ardour knows a bundle by its plain path
session=$work/take/take.ardour
fail() { echo "FAILED: $*"; exit 1; }

if [ "$format" = VST3 ]; then
    for scanner in /usr/lib/ardour7/ardour-vst3-scanner /usr/lib/*/ardour7/ardour-vst3-scanner; do
        [ -x "$scanner" ] && LD_LIBRARY_PATH=$(dirname "$scanner") "$scanner" -f -q "$bundles/Tarry.vst3" > /dev/null 2>&1
    done
    id=$(grep -rhoP 'uid="\K[0-9A-F]+' "$work" --include='*.v3i') measure=Measure
else
    id=urn:tarry:plugin measure=measure
fi
# act NAME: does it, within a minute: a host that hangs is what this is about. Sets what it printed.
act() {
    timeout 60 ardour7-lua "$here/ardour.lua" "$work/take" take "$1" "$format" "$id" "$measure" > "$work/out" 2>&1 ||
        { tail -n 5 "$work/out"; fail "$1: status $?, or no answer in a minute"; }
    measuring=$(grep -a '^measure' "$work/out" | awk '{print $2 + 0}') latency=$(grep -a '^latency' "$work/out" | awk '{print $2 + 0}')
}
saved() { python3 "$here/ardour.py" state "$session" || fail "no state"; }
# Ardour's export crashes now and then with no plugin at all: it gets three tries.
rendered() {
    for _ in 1 2 3; do
        rm -f "$work/out.wav"
        timeout 60 ardour7-export -b float -o "$work/out.wav" "$work/take" take > /dev/null 2>&1
        [ -s "$work/out.wav" ] && { python3 "$here/ardour.py" shift "$work/out.wav" "$work/hall/spot.wav"; return; }
    done
    fail "no export"
}
is() { [[ $2 == $3 ]] && echo "ok: $1 $2" || fail "$1: wanted $3, is $2"; }

"$tarry" hall -o "$work/hall" --scene player --seed 3 --distance 10.7 > /dev/null || fail "no hall"
truth=$(grep -oP '"lag_ms": \K[0-9.]+' "$work/hall/truth.json" | head -n 1)
act make
python3 "$here/ardour.py" audio "$session" "Room=$work/hall/room.wav" "Spot=$work/hall/spot.wav" || fail "no audio"
act insert
is "rendered while measuring:" "$(rendered)" same
act loop
is "one hit looped:" "$(saved)" "measuring none 0.0"
act play
is "measured:" "$(saved)" "frozen *"
lag=$(saved | awk '{print $2}')
awk -v a="$lag" -v b="$truth" 'BEGIN { exit !(a - b < 0.5 && b - a < 0.5) }' || fail "lag $lag ms, made at $truth ms, limit 0.5"
is "the host's switch:" "$measuring" 0
shift=$(rendered)
awk -v a="$shift" -v b="$lag" 'BEGIN { d = a - 48 * b; exit !(d <= 1 && d >= -1) }' || fail "rendered $shift samples later, held $lag ms"
echo "ok: rendered $shift samples later, $lag ms held, made at $truth ms"
act loop # in another process: reopened
is "reopened and looped:" "$(saved)" "frozen $lag 0.0"
is "the host's switch:" "$measuring" 0
act preset
is "presets while it plays:" "$(saved)" "frozen $lag 20.0"
is "latency told:" "$latency" 960
