#!/usr/bin/python3
"""What ardour.sh needs done to and read from an Ardour 7.3 session.

ardour.py audio SESSION.ardour TRACK=WAV...   puts each file at the start of its track, and a loop over the first hit
ardour.py state SESSION.ardour TRACK          what Tarry saved there: phase, lag in ms (or none), look-ahead in ms
ardour.py shift WAV RECORDED                  by how many samples RECORDED is found later in WAV; "same" where it is RECORDED
"""
import array, base64, glob, json, os, re, shutil, subprocess, sys
import xml.etree.ElementTree as xml

PER_SECOND = 282240000  # Ardour's ticks


def audio(session, tracks):
    tree = xml.parse(session)
    root = tree.getroot()
    number, end = 900000, 0
    folder = os.path.join(os.path.dirname(session), "interchange", os.path.basename(session)[:-7], "audiofiles")
    os.makedirs(folder, exist_ok=True)
    for track in tracks:
        name, wav = track.split("=")
        shutil.copy(wav, folder)
        frames = int(subprocess.check_output(["soxi", "-s", wav]))
        length = frames * PER_SECOND // 48000
        end = max(end, length)
        number += 2
        base = os.path.basename(wav)
        xml.SubElement(root.find("Sources"), "Source", name=base, type="audio", flags="", id=str(number), channel="0",
                       origin=base, gain="1")
        region = {"name": base[:-4], "start": "a0", "length": f"a{length}@a0", "channels": "1", "id": str(number + 1),
                  "type": "audio", "opaque": "1", "fade-in-active": "0",
                  "fade-out-active": "0", "envelope-active": "0", "source-0": str(number), "master-source-0": str(number)}
        for playlist in root.iter("Playlist"):
            if playlist.get("name") == name:
                xml.SubElement(playlist, "Region", region)
    for name, start, stop, flags in (("session", 0, end, "IsSessionRange"),
                                     ("Loop", int(0.3 * PER_SECOND), int(1.0 * PER_SECOND), "IsAutoLoop")):
        number += 2
        xml.SubElement(root.find("Locations"), "Location", {
            "id": str(number), "name": name, "start": f"a{start}", "end": f"a{stop}", "flags": flags, "locked": "0",
            "position-lock-style": "AudioTime", "timestamp": "0"})
    root.set("id-counter", str(number + 1000))
    tree.write(session, xml_declaration=True, encoding="UTF-8")


def from_juce(text):
    """JUCE's own base64: "<size>.<characters>", six bits each, little end first."""
    size, characters = text.split(".", 1)
    alphabet = ".ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+"
    bits = sum(alphabet.index(c) << (6 * i) for i, c in enumerate(characters))
    return bits.to_bytes(len(characters), "little")[:int(size)]


def state(session, track):
    found = None
    routes = [r for r in xml.parse(session).getroot().iter("Route") if r.get("name") == track]
    for processor in (p for route in routes for p in route.iter("Processor")):
        if "Tarry" not in (processor.get("name") or ""):
            continue
        blobs = [base64.b64decode(chunk.text) for chunk in processor.iter("chunk")]
        for lv2 in processor.iter("lv2"):
            kept = f"{os.path.dirname(session)}/plugins/{processor.get('id')}/{lv2.get('state-dir')}/state.ttl"
            for file in glob.glob(kept):
                blobs += [from_juce(s) for s in re.findall(r'"([0-9]+\.[^"]{50,})"', open(file).read())]
        for blob in blobs:
            at = blob.find(b'{"follow"') if b'{"tarry_state"' not in blob else blob.find(b'{"tarry_state"')
            if at >= 0:
                found = json.JSONDecoder().raw_decode(blob[at:].decode("utf8", "replace"))[0]
    if not found:
        sys.exit(f"no state of Tarry's on {track} in {session}")
    held = found["follow"]["held"]
    print(found["follow"]["phase"], f"{1e3 * held[0]['lag_s']:.3f}" if held else "none",
          found["settings"]["lookAhead"])


def shift(wav, recorded):
    def load(file):
        return array.array("f", subprocess.check_output(["sox", file, "-t", "f32", "-", "remix", "1"]))
    a, b = load(wav), load(recorded)
    if len(a) and a[:len(b)] == b[:len(a)]:
        return print("same")
    loudest = max(range(200, min(len(b), 200000)), key=lambda i: abs(b[i]))
    window = b[loudest - 200:loudest + 200]
    def off(k):
        return sum((a[loudest - 200 + k + i] - window[i]) ** 2 for i in range(0, 400, 4))
    print(min(range(0, 6000), key=off))


command, arguments = sys.argv[1], sys.argv[2:]
audio(arguments[0], arguments[1:]) if command == "audio" else {"state": state, "shift": shift}[command](*arguments)
