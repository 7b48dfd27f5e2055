#!/usr/bin/env bash
# The command for Windows, as near as a Debian machine comes to it: built by MinGW-w64 against the libraries' sources that
# Debian carries, and at work under Wine, where it has to say what the build for this machine says, to the last digit. A
# libsndfile without FLAC: Debian has no codecs for MinGW. The libraries are built once, into build/windows.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
bash cmake/packages.sh windows
root=$PWD/build/windows host=x86_64-w64-mingw32
mkdir -p "$root"/{source,prefix/share/cmake,prefix/include}
cat >"$root/windows.cmake" <<END
set(CMAKE_SYSTEM_NAME Windows)
set(CMAKE_SYSTEM_PROCESSOR x86_64)
set(CMAKE_C_COMPILER $host-gcc-posix)
set(CMAKE_CXX_COMPILER $host-g++-posix)
set(CMAKE_RC_COMPILER $host-windres)
set(CMAKE_FIND_ROOT_PATH "$root/prefix")
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
END
quietly() { "$@" >"$root/log" 2>&1 || { tail -n 30 "$root/log" >&2; echo "Failed: $*" >&2; exit 1; }; }
export PKG_CONFIG_LIBDIR=$root/prefix/lib/pkgconfig # nothing of this machine's own
cross() { quietly cmake -S "$1" -B "$1/b" -G Ninja -DCMAKE_TOOLCHAIN_FILE="$root/windows.cmake" -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_INSTALL_PREFIX="$root/prefix" -DBUILD_SHARED_LIBS=OFF "${@:2}" && quietly cmake --build "$1/b" --target install; }

if [[ ! -e $root/prefix/complete ]]; then
    step "The libraries, from Debian's sources"
    cp -R /usr/include/{CLI,nlohmann} "$root/prefix/include/"
    cp -R /usr/share/cmake/{CLI11,nlohmann_json} "$root/prefix/share/cmake/"
    for name in libsamplerate libsndfile libebur128 fftw3 openssl; do
        [[ -e $root/prefix/$name ]] && continue
        step "$name"
        rm -rf "${root:?}/source/$name"
        quietly bash cmake/debian-source.sh $name "$root/source/$name"
        case $name in
        libsamplerate) cross "$root/source/$name" -DBUILD_TESTING=OFF -DLIBSAMPLERATE_EXAMPLES=OFF ;;
        libsndfile) cross "$root/source/$name" -DBUILD_TESTING=OFF -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF \
            -DENABLE_EXTERNAL_LIBS=OFF -DENABLE_MPEG=OFF ;;
        libebur128) cross "$root/source/$name" ;;
        fftw3) (cd "$root/source/$name" && quietly ./configure --host=$host --prefix="$root/prefix" --disable-fortran \
            --disable-doc --enable-sse2 --enable-threads --with-our-malloc CC=$host-gcc-posix &&
            quietly make -j "$jobs" && quietly make install) ;;
        openssl) (cd "$root/source/$name" && quietly ./Configure mingw64 no-shared no-tests no-module no-asm --libdir=lib \
            --cross-compile-prefix=$host- --prefix="$root/prefix" && quietly make -j "$jobs" build_generated libcrypto.a &&
            cp libcrypto.a "$root/prefix/lib/" && cp -R include/openssl "$root/prefix/include/") ;;
        esac
        touch "$root/prefix/$name"
    done
    touch "$root/prefix/complete"
fi

step "The command"
quietly cmake -S . -B "$root/build" -G Ninja -DCMAKE_TOOLCHAIN_FILE="$root/windows.cmake" -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_DISABLE_FIND_PACKAGE_PkgConfig=ON -DTARRY_PLUGIN=OFF -DTARRY_TESTS=OFF -DTARRY_WARNINGS_AS_ERRORS=ON
cmake --build "$root/build" --parallel "$jobs" --target tarry

step "At work under Wine"
export WINEPREFIX=$root/wine WINEDEBUG=-all WINEDLLOVERRIDES="mscoree,mshtml=" # nor asks for what no program here needs
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --preset core >/dev/null
cmake --build --preset core --parallel "$jobs" --target tarry
windows() { wine "$root/build/tarry.exe" "$@"; }
windows --version
(
    cd "$place"
    windows hall -o hall --seed 7
    windows measure hall/spot.wav hall/room.wav --json windows.json
    windows print hall/spot.wav hall/room.wav -o windows.wav
    windows print hall/spot.wav hall/room.wav -o windows.wav && exit 1 # it is there already
    windows print hall/spot.wav hall/room.wav -o windows.wav --overwrite
    windows print hall/spot.wav missing.wav -o never.wav && exit 1
    "$OLDPWD/build/core/tarry" measure hall/spot.wav hall/room.wav --json here.json
    "$OLDPWD/build/core/tarry" print hall/spot.wav hall/room.wav -o here.wav
    [[ ! -e never.wav && -z $(find . -name '.*' -type f) ]] # nor is anything left of what failed
)
said() { tr -d '\r' <"$place/$1.json" | grep -v '"build"'; }
diff <(said here) <(said windows)
cmp "$place/here.wav" "$place/windows.wav"
step "Windows and this machine say the same and print the same file"
