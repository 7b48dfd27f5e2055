#!/usr/bin/env python3
"""What the command costs on whole files, beside tools that Debian carries.

    commands.py BUILD/tarry [--minutes 4] [--long HOURS]

measure   of 48 kHz: times real time, and against GCC-PHAT over the whole file in SciPy (Knapp and Carter 1976)
print     against `sox delay` of the same file, 96 kHz, 24 bits
memory    of measure on a 96 kHz pair, and on one twice as long: what grows with the file, in memory and in time

Times are of the processor, user and system; the least of three.
"""
import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path


def run(*command):
    """CPU seconds and largest resident MB of the command."""
    child = subprocess.Popen([str(word) for word in command], stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) != 0:
        sys.exit(f"failed: {' '.join(map(str, command))}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def least(*command):
    return min(run(*command)[0] for _ in range(3))


def pair(tarry, folder, rate, minutes):
    """A made-up hall, repeated until it is as long as wanted, with other dither each time: the command would take hits of
    the very same samples for a loop, and count each once."""
    scene = folder / f"hall-{rate}"
    if not scene.exists():
        run(tarry, "hall", "-o", scene, "--seed", 7, "--rate", rate)
    seconds = float(subprocess.run(["soxi", "-D", scene / "spot.wav"], capture_output=True, text=True, check=True).stdout)
    made = []
    for name in "spot", "room":
        made.append(folder / f"{name}-{rate}-{minutes}.wav")
        run("sox", "-R", "-D", scene / f"{name}.wav", "-b", 24, made[-1], "repeat", max(0, int(minutes * 60 / seconds) - 1),
            "gain", -1, "dither")
    length = float(subprocess.run(["soxi", "-D", made[0]], capture_output=True, text=True, check=True).stdout)
    return *made, length


def gcc_phat(spot, room):
    import numpy
    from scipy import fft
    from scipy.io import wavfile

    start = time.process_time()
    tracks = [wavfile.read(file)[1].astype(numpy.float64) for file in (spot, room)]
    size = fft.next_fast_len(2 * max(map(len, tracks)), real=True)
    one, other = (fft.rfft(track, size) for track in tracks)
    cross = other * one.conj()
    fft.irfft(cross / (abs(cross) + 1e-12), size).argmax()
    return time.process_time() - start


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("tarry")
    parser.add_argument("--minutes", type=float, default=4)
    parser.add_argument("--long", type=float, default=0.25, help="hours of the shorter of the two long pairs")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        # First: a child's memory is counted from what this process held when it began.
        figures = []
        for hours in options.long, 2 * options.long:
            spot, room, length = pair(options.tarry, folder, 96000, 60 * hours)
            seconds, mb = run(options.tarry, "measure", spot, room)
            figures.append((length, seconds, mb))
            print(f"memory, {length / 3600:.2f} h at 96 kHz: {mb:.0f} MB, {length / seconds:.0f} x real time")
            spot.unlink(), room.unlink()
        (short, least_time, least_mb), (longer, most_time, most_mb) = figures
        print(f"twice as long: {most_mb / least_mb:.2f} x the memory, {most_time / least_time * short / longer:.2f} x the "
              f"time for each second; at two hours {least_mb + (most_mb - least_mb) * (7200 - short) / (longer - short):.0f}"
              " MB if it goes on so (wanted: 200)")

        spot, room, length = pair(options.tarry, folder, 48000, options.minutes)
        ours = least(options.tarry, "measure", spot, room)
        theirs = min(gcc_phat(spot, room) for _ in range(3))
        print(f"measure, {length:.0f} s at 48 kHz: {length / ours:.0f} x real time (wanted: 150); "
              f"{theirs / ours:.2f} x faster than GCC-PHAT over the whole file in SciPy (wanted: 5)")

        spot, room, length = pair(options.tarry, folder, 96000, options.minutes)
        printed = least(options.tarry, "print", spot, "-o", folder / "print.wav", "--lag-ms", 31.0837, "--polarity",
                        "normal", "--overwrite")
        moved = least("sox", "-D", spot, folder / "moved.wav", "delay", 0.0310837)
        print(f"print, {length:.0f} s at 96 kHz: {printed / moved:.2f} x sox delay (wanted: 2)")


if __name__ == "__main__":
    main()
