#!/bin/bash
# Drives the editor with real mouse and keyboard events: measures, settles, freezes, A/B, lean, blend, a lag by hand, and
# a whole blind trial, half of it by mouse and half by keys.
# Usage: drive.sh EDITOR-WINDOW [FOLDER]    FOLDER: where a picture of the screen after each step goes
# Ends with 77 (skipped) where there is no Xvfb or xdotool.
set -u
shopt -s extglob
for tool in Xvfb xvfb-run xdotool; do
    command -v $tool > /dev/null || { echo "SKIPPED: no $tool"; exit 77; }
done
if [ -z "${TARRY_DRIVEN:-}" ]; then
    TARRY_DRIVEN=1 exec xvfb-run -a -s "-screen 0 1320x840x24" "$0" "$@"
fi
window=$1 pictures=${2:-}
told=$(mktemp) hold=$(mktemp -u)
mkfifo "$hold"
"$window" player 3 < "$hold" > "$told" &
process=$!
exec 9> "$hold" # held open: the window ends when it is closed
trap 'exec 9>&-; wait $process; rm -f "$told" "$hold"' EXIT

picture() { [ -z "$pictures" ] || import -window root -crop 642x402+0+0 "$pictures/$1.png"; }
click() { xdotool mousemove "$1" "$2" click 1; }
keys() { for key in "$@"; do xdotool key "$key"; sleep 0.05; done; }
# JUCE on X11 may leave an event that came during another call to the server until the next one comes. A hand is never
# quite still, so there always is a next one.
tremble() { xdotool mousemove_relative -- 1 0 mousemove_relative -- -1 0; }
# Waits until the last thing told of NAME is VALUE (a pattern); 40 s are far more than any step needs.
expect() {
    for _ in $(seq 400); do
        last=$(grep "^$1 " "$told" | tail -n 1)
        # shellcheck disable=SC2053
        [[ $last == "$1 "$2 ]] && { echo "ok: $last"; return; }
        kill -0 $process 2> /dev/null || { echo "FAILED: the window has gone"; exit 1; }
        sleep 0.1
        tremble
    done
    echo "FAILED: wanted $1 $2, last told: ${last:-nothing}"
    exit 1
}

# What was told last of NAME is VALUE still, after a time in which it would have been told anew.
still() {
    sleep 0.3
    tremble
    sleep 0.1
    last=$(grep "^$1 " "$told" | tail -n 1)
    [[ $last == "$1 $2" ]] || { echo "FAILED: wanted $1 to stay $2, last told: $last"; exit 1; }
    echo "ok: $1 stays $2"
}

expect phase measuring
picture 1-measuring
expect phase frozen          # settled, and frozen at once: that is the default
expect lag '2[89].*'
picture 2-frozen
measured=$last
click 54 362;  expect hear recorded
picture 3-as-recorded
click 150 362; expect hear aligned
keys a;        expect hear recorded       # the key does the same
keys a;        expect hear aligned
click 270 372; keys Delete;  expect lean 0.0
keys shift+Right shift+Right; expect lean 2.0
keys 8 Return; expect lean 8.0            # typed
click 375 359; expect blend on
picture 4-lean-and-blend
keys Return;   expect blend off           # space stays the host's, which plays and stops with it
keys b;        expect blend on
keys b;        expect blend off
click 60 70;   keys 3 5 f t Return; expect lag 31.084 # 35 ft at 20 C
keys Right;    expect lag 31.094
keys shift+Left; expect lag 30.994        # ten steps of 0.01 ms
picture 5-by-hand
click 67 148;  expect polarity inverted
click 67 148;  expect polarity normal
keys u;        expect screen-unit samples
keys u u u;    expect screen-unit ms
click 60 70;   keys Delete; expect lag "${measured#lag }" # the measured one again

# The picture: dragged on the waveform, undone and redone, zoomed, scrolled, hit by hit.
xdotool mousemove 330 70 mousedown 1; for step in 1 2 3 4; do xdotool mousemove_relative 8 0; sleep 0.05; done
xdotool mouseup 1
expect lag '3[2-9].*'
dragged=$last
picture 6-dragged
keys z;        expect lag "${measured#lag }"
keys shift+z;  expect lag "${dragged#lag }"
keys z;        expect lag "${measured#lag }"
xdotool mousemove 420 230 click 4; expect screen-view '[1-9]*'
view=$last
keys plus;     sleep 0.3; expect screen-view "!(${view#screen-view })"
keys 0;        expect screen-view 0.00
keys h;        expect screen-hits time
keys h;        expect screen-hits lag
keys question; sleep 0.3
picture 7-keys
keys Escape
click 30 333;  expect phase measuring
click 102 304; expect phase frozen
keys m;        expect phase measuring
keys f;        expect phase frozen
click 526 16; sleep 0.3      # setup
picture 8-setup
click 505 187; expect screen-colours light
click 418 16; sleep 0.3
picture 9-light

click 580 16                 # the trial's
click 272 200
expect trial matching        # ten seconds of the passage are measured
picture 10-trial-matching
click 54 362;  still hear aligned   # held still
lag=$(grep "^lag " "$told" | tail -n 1)
click 60 70;   keys 3 5 f t Return
still lag "${lag#lag }"
expect trial '0 answered, hearing X'
picture 11-trial
click 422 122; expect trial '0 answered, hearing A'
click 562 122; expect trial '0 answered, hearing B'
click 316 175; expect trial '1 answered, hearing X' # both were heard
click 316 175; still trial '1 answered, hearing X'  # and now not yet
for answered in 2 3 4 5 6 7 8; do
    click 422 122; expect trial "$((answered - 1)) answered, hearing A"
    click 562 122; expect trial "$((answered - 1)) answered, hearing B"
    click 316 175; expect trial "$answered answered, hearing X"
done
for answered in 9 10 11 12 13 14 15; do
    keys a; expect trial "$((answered - 1)) answered, hearing A"
    keys b; expect trial "$((answered - 1)) answered, hearing B"
    keys 1; expect trial "$answered answered, hearing X"
done
keys a; expect trial '15 answered, hearing A'
keys b; expect trial '15 answered, hearing B'
keys 2
expect trial finished
picture 12-trial-result
expect recall '*trial=right:*/16,p=*'
keys Return      # the result can be copied at once
expect clipboard 'Tarry, blind trial: * of 16*'
click 54 362;  expect hear recorded # let go again
echo "driven"
