#!/usr/bin/env bash
# The LV2 in jalv, under JACK's dummy driver: its ports are there, a preset is loaded while audio runs, and the look-ahead
# that it brings reaches JACK as latency. Usage: jalv.sh FOLDER-OF-BUNDLES
# Ends with 77 (skipped) where a program is missing.
set -u
for tool in jackd jalv jack_lsp; do
    command -v $tool >/dev/null || { echo "skipped: $tool is not installed"; exit 77; }
done
folder=$(mktemp -d)
export LV2_PATH="$1:/usr/lib/lv2" JACK_DEFAULT_SERVER="tarry-$$" JACK_NO_START_SERVER=1 # a JACK of its own
jackd -n "$JACK_DEFAULT_SERVER" -r -d dummy -r 48000 -p 256 >"$folder/jackd" 2>&1 &
jackd=$!
jalv=
# One after the other: a JACK that ends beside its client may keep its place among eight in shared memory for good.
trap '[ -z "$jalv" ] || { kill $jalv; wait $jalv; }; kill $jackd; wait $jackd; rm -rf "$folder"' EXIT
failed() {
    echo "FAILED: $1"
    cat "$folder"/jalv "$folder"/jackd
    exit 1
}
# wait_for WHAT COMMAND...: up to 10 s.
wait_for() {
    for _ in $(seq 100); do
        "${@:2}" >/dev/null 2>&1 && return
        sleep 0.1
    done
    failed "$1"
}
ports_are() { [ "$(jack_lsp Tarry:audio | wc -l)" = "$1" ]; }
latency_is() { jack_lsp -l Tarry:audio_out_1 | grep "playback latency = \[ $1 $1 \]"; }

wait_for "JACK does not run" jack_lsp
mkfifo "$folder/commands"
jalv urn:tarry:plugin <"$folder/commands" >"$folder/jalv" 2>&1 &
jalv=$!
exec 9>"$folder/commands" # held open: jalv ends with its input
wait_for "jalv does not show 6 audio ports" ports_are 6
latency_is 0 >/dev/null || failed "a latency from the start"
echo "preset urn:tarry:plugin:preset-late-spot" >&9
wait_for "the preset's look-ahead of 20 ms does not reach JACK" latency_is 960
echo "preset urn:tarry:plugin:preset-hard-sticks" >&9
wait_for "a preset without look-ahead leaves a latency" latency_is 0
kill -0 $jalv || failed "jalv has gone"
grep -i "error" "$folder/jalv" && failed "jalv tells an error"
echo "ok: 6 ports, presets loaded while audio runs, look-ahead told to JACK"
