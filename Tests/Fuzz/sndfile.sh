#!/usr/bin/env bash
# Builds Debian's libsndfile once more, by clang and watched by the fuzzer and AddressSanitizer, so that the fuzzing of
# audio files finds its way through it too: the installed one tells the fuzzer nothing. Prints the folder to put on
# LD_LIBRARY_PATH; ends with 77 where the source cannot be had. Usage: sndfile.sh BUILD-FOLDER
set -euo pipefail
source_of=$(cd "$(dirname "$0")/../.." && pwd)/cmake/debian-source.sh
mkdir -p "$1"
cd "$1"
if [[ ! -e lib/libsndfile.so.1 ]]; then
    {
        rm -rf libsndfile
        bash "$source_of" libsndfile libsndfile || exit 77
        cmake -G Ninja -S libsndfile -B build -DBUILD_SHARED_LIBS=ON -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_TESTING=OFF \
            -DENABLE_CPACK=OFF -DENABLE_MPEG=OFF -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_C_COMPILER=clang \
            -DCMAKE_C_FLAGS="-fsanitize=address,fuzzer-no-link"
        cmake --build build --target sndfile
        mkdir -p lib
        cp -P build/libsndfile.so* lib/
    } >log 2>&1
fi
echo "$PWD/lib"
