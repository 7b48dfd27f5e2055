# For ardour.sh and ardour-window.sh, which source it with FORMAT BUNDLE-FOLDER TARRY: a session of Ardour 7 with a made-up
# hall in it and Tarry on the spot's track, in a home folder of its own; and what both ask of it.
set -u
here=$(cd "$(dirname "$0")" && pwd) format=$1 bundles=$(cd "$2" && pwd) tarry=$3
for tool in ardour7-lua ardour7-export sox soxi ${needed:-}; do
    command -v "$tool" > /dev/null || { echo "SKIPPED: no $tool"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export HOME=$work VST3_PATH=$bundles LV2_PATH=$bundles:/usr/lib/lv2 # Ardour knows a bundle by its plain path
session=$work/take/take.ardour
fail() { echo "FAILED: $*"; exit 1; }
is() { [[ $2 == $3 ]] && echo "ok: $1 $2" || fail "$1: wanted $3, is $2"; }
# near WHAT A B LIMIT
near() { awk -v a="$2" -v b="$3" -v most="$4" 'BEGIN { exit !(a - b <= most && b - a <= most) }' && echo "ok: $1 $2, made at $3" ||
    fail "$1: $2, made at $3, limit $4"; }

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
# What Tarry saved on a track (Spot where none is named).
saved() { python3 "$here/ardour.py" state "$session" "${1:-Spot}" || fail "no state"; }
# hall NAME SEED METRES: a made-up hall; prints its lag in ms.
hall() {
    "$tarry" hall -o "$work/$1" --scene player --seed "$2" --distance "$3" > /dev/null || fail "no hall"
    grep -oP '"lag_ms": \K[0-9.]+' "$work/$1/truth.json" | head -n 1
}
put() { python3 "$here/ardour.py" audio "$session" "$@" || fail "no audio"; }
# Ardour's export crashes now and then with no plugin at all: it gets three tries.
# rendered WAV: by how many samples what is exported is later than that.
rendered() {
    for _ in 1 2 3; do
        rm -f "$work/out.wav"
        timeout 60 ardour7-export -b float -o "$work/out.wav" "$work/take" take > /dev/null 2>&1
        [ -s "$work/out.wav" ] && { python3 "$here/ardour.py" shift "$work/out.wav" "$1"; return; }
    done
    fail "no export"
}
