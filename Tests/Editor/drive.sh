#!/bin/bash
# Drives the editor with real mouse and keyboard events: measures, settles, freezes, A/B, lean, blend, a lag by hand, and
# a whole blind trial, half of it by mouse and half by keys.
# Usage: drive.sh EDITOR-WINDOW [FOLDER]    FOLDER: where a picture of the screen after each step goes
# Ends with 77 (skipped) where there is no Xvfb or xdotool.
set -u
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
click 64 336;  expect hear recorded
picture 3-as-recorded
click 164 336; expect hear aligned
click 428 95;  expect hear recorded       # the upper row of the picture
keys Down;     expect hear aligned        # and its keys
click 290 334; keys Delete;  expect lean 0.0
keys shift+Right shift+Right; expect lean 2.0
keys 8 Return; expect lean 8.0            # typed
click 380 314; expect blend on
picture 4-lean-and-blend
keys Return;   expect blend off          # space stays the host's, which plays and stops with it
click 60 72;   keys 3 5 f t Return; expect lag 31.084 # 35 ft at 20 C
keys Right;    expect lag 31.094
keys shift+Left; expect lag 31.073        # a sample of 48 kHz
picture 5-by-hand
click 150 130; expect polarity inverted
click 150 130; expect polarity normal
keys shift+Tab shift+Tab u; expect screen-unit samples
click 60 72;   keys Delete; expect lag "${measured#lag }" # the measured one again
click 370 19;  expect phase measuring
click 424 19;  expect phase frozen
click 600 19;  expect screen-colours light
picture 6-light
click 364 50; sleep 0.3      # the pages, from left to right
picture 7-setup

click 424 50                 # the trial's
click 286 233
expect trial matching        # ten seconds of the passage are measured
picture 8-trial-matching
click 64 336;  still hear aligned   # held still
click 60 72;   keys 3 5 f t Return
still lag "${measured#lag }"
expect trial '0 answered, hearing X'
picture 9-trial
click 433 155; expect trial '0 answered, hearing A'
click 568 155; expect trial '0 answered, hearing B'
for answered in 1 2 3 4 5 6 7 8; do
    click 330 210
    expect trial "$answered answered, hearing X"
done
click 433 155                # the keyboard goes on from A, in the order of reading
keys Tab Return; expect trial '8 answered, hearing B'
keys Tab         # X is A
for answered in 9 10 11 12 13 14 15; do
    keys Return
    expect trial "$answered answered, hearing X"
done
keys Return
expect trial finished
picture 10-trial-result
expect recall '*trial=right:*/16,p=*'
keys Return      # the result can be copied at once
expect clipboard 'Tarry, blind trial: * of 16*'
click 64 336;  expect hear recorded # let go again
echo "driven"
