#!/bin/bash
# Tarry in Ardour 7 without its window: rendered while measuring, one hit looped, measured and frozen, rendered, reopened
# and looped, presets with another latency chosen while it plays. Usage: ardour.sh VST3|LV2 BUNDLE-FOLDER TARRY
# TARRY_TIMES: all of it so many times over. Ends with 77 (skipped) where there is no Ardour 7 or sox.
source "$(dirname "$0")/ardour-session.sh"

for time in $(seq "${TARRY_TIMES:-1}"); do
    rm -rf "$work/take" "$work/hall"
    truth=$(hall hall 3 10.7) || fail "$truth"
    act make
    put "Room=$work/hall/room.wav" "Spot=$work/hall/spot.wav"
    act insert
    is "rendered while measuring:" "$(rendered "$work/hall/spot.wav")" same
    act loop
    is "one hit looped:" "$(saved)" "measuring none 0.0"
    act play
    is "measured:" "$(saved)" "frozen *"
    lag=$(saved | awk '{print $2}')
    near "lag in ms:" "$lag" "$truth" 0.5
    is "the host's switch:" "$measuring" 0
    shift=$(rendered "$work/hall/spot.wav")
    awk -v a="$shift" -v b="$lag" 'BEGIN { d = a - 48 * b; exit !(d <= 1 && d >= -1) }' || fail "rendered $shift samples later, held $lag ms"
    echo "ok: rendered $shift samples later, $lag ms held, made at $truth ms"
    act loop # in another process: reopened
    is "reopened and looped:" "$(saved)" "frozen $lag 0.0"
    is "the host's switch:" "$measuring" 0
    act preset
    is "presets while it plays:" "$(saved)" "frozen $lag 20.0"
    is "latency told:" "$latency" 960
    echo "ok: time $time of ${TARRY_TIMES:-1}"
done
