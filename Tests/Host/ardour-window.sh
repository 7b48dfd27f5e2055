#!/bin/bash
# Tarry's editor inside Ardour 7's own window: measured and frozen with the editor open, presets with another latency
# chosen from the host's list while it plays, saved, and reopened with the editor open three times over; then exported.
# Usage: ardour-window.sh VST3|LV2 BUNDLE-FOLDER TARRY [FOLDER]
# FOLDER: where a picture of the plugin's window after each step goes.
# Ends with 77 (skipped) where Ardour 7, sox, Xvfb, openbox or xdotool are missing.
needed="ardour Xvfb xvfb-run openbox xdotool import"
pictures=${4:-}
if [ -z "${TARRY_WINDOWED:-}" ] && command -v xvfb-run > /dev/null; then
    TARRY_WINDOWED=1 exec xvfb-run -a -s "-screen 0 1600x1000x24" "$0" "$@"
fi
source "$(dirname "$0")/ardour-session.sh"
openbox > /dev/null 2>&1 &
manager=$!
trap 'kill $manager ${ardour:-} 2> /dev/null; wait 2> /dev/null; rm -rf "$work"' EXIT

# Ardour starts without a question, on its driver that is no device.
mkdir -p "$work/.config/ardour7"
touch "$work/.config/ardour7/.a7"
cat > "$work/.config/ardour7/config" << 'END'
<?xml version="1.0" encoding="UTF-8"?>
<Ardour>
  <Config>
    <Option name="hide-dummy-backend" value="0"/>
    <Option name="try-autostart-engine" value="1"/>
    <Option name="discover-plugins-on-start" value="0"/>
  </Config>
  <Extra><AudioMIDISetup><EngineStates>
    <State backend="None (Dummy)" driver="Normal Speed" device="Silence" input-device="" output-device="" sample-rate="48000"
      buffer-size="1024" n-periods="0" input-latency="0" output-latency="0" lm-input="" lm-output="" active="1"
      use-buffered-io="0" midi-option="1 in, 1 out, Silence" lru="1"><MIDIDevices/></State>
  </EngineStates></AudioMIDISetup></Extra>
</Ardour>
END

# window NAME: waits for one that is called so. Sets `found`.
window() {
    for _ in $(seq 60); do
        found=$(xdotool search --onlyvisible --name "$1" 2> /dev/null | tail -n 1)
        [ -n "$found" ] && return
        sleep 0.5
    done
    fail "no window '$1'"
}
# opened TRACK PLACE: the session in its window, and the editor of the plugin on the track at that place in the mixer.
opened() {
    ardour "$work/take" > "$work/ardour.log" 2>&1 &
    ardour=$!
    window 'take - Ardour'
    main=$found
    sleep 3
    xdotool windowactivate --sync "$main" windowsize --sync "$main" 1350 740 key alt+m
    sleep 2
    xdotool mousemove --window "$main" $((332 + 110 * $2)) 215 click --repeat 2 --delay 120 1
    window "$1: Tarry"
    editor=$found
    sleep 1
}
picture() {
    [ -z "$pictures" ] && return
    xdotool windowactivate --sync "$editor" mousemove --window "$editor" 450 570
    sleep 1
    import -window "$editor" "$pictures/ardour-$format-$1.png"
}
key() { xdotool windowactivate --sync "$1"; shift; xdotool key "$@"; sleep 1; }
play() { key "$main" Home space; sleep "$1"; key "$main" space; }
# preset NUMBER: from the host's own list, which is sorted by name.
preset() {
    xdotool windowactivate --sync "$editor" mousemove --window "$editor" 650 16 click 1
    sleep 0.7
    xdotool key Home $(printf 'Down %.0s' $(seq "$1")) Return
    sleep 1.5
}
closed() {
    key "$main" ctrl+s
    sleep 2
    kill "$ardour"
    wait "$ardour" 2> /dev/null
    kill -0 "$ardour" 2> /dev/null && fail "Ardour hangs"
    ardour=
}

# Real drums where they are given: TARRY_DRUMS="SPOT ROOM MS", files and the lag that is known of them.
read -r spot room here_ms <<< "${TARRY_DRUMS:-}"
if [ -z "$spot" ]; then
    here_ms=$(hall here 3 10.7) || fail "$here_ms"
    spot=$work/here/spot.wav room=$work/here/room.wav
fi
sox "$spot" -r 48000 -c 1 "$work/spot.wav"
sox "$room" -r 48000 -c 1 "$work/room.wav"
seconds=$(soxi -D "$work/room.wav")
act make
put "Room=$work/room.wav" "Spot=$work/spot.wav"
act insert

opened Spot 1
picture 1-opened
play "$seconds"
picture 2-measured
play "$seconds" # and is watched
picture 3-watched
key "$main" Home space # goes on while presets are chosen
for _ in 1 2 3 4 5; do
    preset 3 # Late spot: with look-ahead
    preset 2 # Hard sticks: without
done
key "$main" space
picture 4-presets
closed
lag=$(saved | awk '{print $2}')
is "ten presets with the editor open, while it plays:" "$(saved)" "frozen * 0.0"
near "lag in ms:" "$lag" "$here_ms" 0.5

for time in 1 2 3; do # the preset's number is restored with the session, and must not set anything going
    opened Spot 1
    [ $time = 3 ] && play "$seconds"
    picture 5-reopened
    closed
    is "reopened, $time:" "$(saved)" "frozen $lag 0.0"
done

shift=$(rendered "$work/spot.wav")
awk -v a="$shift" -v b="$lag" 'BEGIN { d = a - 48 * b; exit !(d <= 1 && d >= -1) }' || fail "rendered $shift samples later, held $lag ms"
echo "ok: printed $shift samples later"
