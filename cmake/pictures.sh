#!/bin/sh
# Paints the editor's pictures anew, from made-up halls through the real processor, into Source/Editor/Pictures.
# Usage: cmake/pictures.sh [BUILD]   (default: build/release, configured with the tests)
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
build=${1:-"$here/build/release"}
cmake --build "$build" --target editor-pictures
"$build/Tests/Editor/editor-pictures" "$here/Source/Editor/Pictures"
