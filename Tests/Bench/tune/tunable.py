#!/usr/bin/python3
"""Copies Source/Core so that its named constants can be changed while a program runs: see Tunable.h.

    tunable.py Source/Core OUT        # writes OUT/Core/... and prints the .cpp files, by semicolon, for CMake

Every `constexpr double` or `float` with a plain value, at namespace level, in a class or in a function, becomes a
reference into a table. Constants that others are made of at compile time (sizes, tables) stay as they are: FIXED.
"""
import pathlib
import re
import sys

# Used where only a compile-time value will do.
FIXED = {"Capture/OnsetDetector.threshold"}

DECLARATION = re.compile(r"^(?P<indent> *)(?P<how>(?:inline |static )*)constexpr (?P<type>double|float) "
                         r"(?P<body>[A-Za-z_]\w* = [^;{}]*);", re.MULTILINE)
ONE = re.compile(r"\s*(?P<name>[A-Za-z_]\w*) = (?P<value>.+)$", re.DOTALL)


def parts(body):
    """`a = 1, b = f(2, 3)` at its outer commas."""
    depth, start, found = 0, 0, []
    for i, c in enumerate(body):
        depth += (c in "([") - (c in ")]")
        if c == "," and depth == 0:
            found.append(body[start:i])
            start = i + 1
    return found + [body[start:]]


def rewrite(text, place):
    changed = False

    def one(match):
        nonlocal changed
        inside = match["indent"] != ""
        how = "static inline " if "static" in match["how"] else "static " if inside else "inline " if match["how"] else "static "
        declarations = []
        for part in parts(match["body"]):
            name, value = ONE.match(part).group("name", "value")
            full = f"{place}.{name}"
            if full in FIXED:
                declarations.append(f"{match['how']}constexpr {match['type']} {name} = {value};")
                continue
            changed = True
            declarations.append(f"{how}const {match['type']}& {name} = ::tarry::tune::constant(\"{full}\", "
                                f"static_cast<{match['type']}>({value}));")
        return match["indent"] + " ".join(declarations)

    text = DECLARATION.sub(one, text)
    return '#include "Tunable.h"\n' + text if changed else text


def main():
    source, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    sources = []
    for file in sorted(source.rglob("*")):
        if file.suffix not in (".h", ".cpp"):
            continue
        copy = out / "Core" / file.relative_to(source)
        copy.parent.mkdir(parents=True, exist_ok=True)
        text = rewrite(file.read_text(), str(file.relative_to(source).with_suffix("")))
        if not copy.exists() or copy.read_text() != text:  # what did not change is not built again
            copy.write_text(text)
        if file.suffix == ".cpp":
            sources.append(str(copy))
    print(";".join(sources), end="")


if __name__ == "__main__":
    main()
