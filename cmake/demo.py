"""What plugin and command found, side by side with the truth; status 1 where they are not equal. For demo.sh."""

import json
import pathlib
import struct
import sys


def read(name):
    return json.loads((folder / name).read_text())


def samples(name):
    """The format and the bytes of a WAV file's samples: what has to be equal, whatever else the header says."""
    data = (folder / name).read_bytes()
    at, parts = 12, {}
    while at + 8 <= len(data):
        kind, size = struct.unpack_from("<4sI", data, at)
        parts[kind] = data[at + 8 : at + 8 + size]
        at += 8 + size + size % 2
    return parts[b"data"]


folder = pathlib.Path(sys.argv[1])
truth, plugin, frozen, command = (read(n + ".json") for n in ("truth", "plugin", "frozen", "command"))

rows = [
    ("lag", "lag_ms", lambda v: f"{v:.6f} ms"),
    ("polarity", "polarity", str),
    ("confidence", "confidence", lambda v: f"{v:.4f}"),  # as many decimals as the command's report has
    ("verdict", "verdict", str),
    ("hits agreeing", "hits", lambda v: f"{v['agreeing']} of {v['found']}"),
]


def cell(source, key, text):
    return text(source[key]) if source.get(key) is not None else "-"


line = "{:<15}{:>16}{:>16}{:>16}".format
print()
print(line("", "truth", "plugin", "command"))
for name, key, text in rows:
    print(line(name, cell(truth, key, text), cell(plugin, key, text), cell(command, key, text)))
print()

unequal = [name for name, key, text in rows if cell(plugin, key, text) != cell(command, key, text)]
if frozen["phase"] != "frozen":
    unequal.append("the plugin did not reopen frozen")
played, printed = samples("plugin.wav"), samples("command.wav")
if not played or printed[: len(played)] != played:  # the print goes on past the spot's end, by the lag
    unequal.append("printed samples")
if unequal:
    sys.exit("Plugin and command differ: " + ", ".join(unequal))
print("Plugin and command say the same and printed the same samples, bit for bit.")
if truth.get("lag_ms") is not None and command["lag_ms"] is not None:
    print(f"The lag is {abs(command['lag_ms'] - truth['lag_ms']) * 1e3:.0f} microseconds off the truth.")
print(f"Listen to {folder}/blend-as-recorded.wav, then {folder}/blend-aligned.wav (mind your ears: attacks add up).")
