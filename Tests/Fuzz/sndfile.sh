#!/usr/bin/env bash
# Builds Debian's libsndfile once more, by clang and watched by the fuzzer and AddressSanitizer, so that the fuzzing of
# audio files finds its way through it too: the installed one tells the fuzzer nothing. Prints the folder to put on
# LD_LIBRARY_PATH; ends with 77 where the source cannot be had. Usage: sndfile.sh BUILD-FOLDER
set -euo pipefail
mkdir -p "$1/lists/partial"
cd "$1"
if [[ ! -e lib/libsndfile.so.1 ]]; then
    # A list of sources of our own: the machine's own apt is left as it is.
    suite=$(. /etc/os-release && echo "${VERSION_CODENAME:-stable}")
    keys=/usr/share/keyrings/debian-archive-keyring.gpg
    echo "deb-src [signed-by=$keys] http://deb.debian.org/debian $suite main" >sources.list
    apt=(apt-get -q -o Dir::Etc::sourcelist="$PWD/sources.list" -o Dir::Etc::sourceparts=/dev/null -o Dir::State::lists="$PWD/lists")
    {
        "${apt[@]}" update && "${apt[@]}" source --download-only libsndfile && tar xf libsndfile_*.orig.tar.* || exit 77
        (cd libsndfile-*/ && tar xf ../libsndfile_*.debian.tar.* && while read -r patch; do patch -p1 <"debian/patches/$patch"; done <debian/patches/series)
        cmake -G Ninja -S libsndfile-*/ -B build -DBUILD_SHARED_LIBS=ON -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_TESTING=OFF \
            -DENABLE_CPACK=OFF -DENABLE_MPEG=OFF -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_C_COMPILER=clang \
            -DCMAKE_C_FLAGS="-fsanitize=address,fuzzer-no-link"
        cmake --build build --target sndfile
        mkdir -p lib
        cp -P build/libsndfile.so* lib/
    } >log 2>&1
fi
echo "$PWD/lib"
