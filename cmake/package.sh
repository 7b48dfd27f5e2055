#!/usr/bin/env bash
# Makes the .deb and the .tar.gz from the preset install, and tries them: lintian without errors, both installed on a bare
# Debian 12 (as root, in a chroot) and at work there, the command also on a processor without AVX.
#   package.sh [FOLDER]: keeps the bare system in FOLDER for the next time
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
bash cmake/packages.sh package
build=$PWD/build/install
bare=${1:-}

step "Build and pack"
cmake --preset install >/dev/null
cmake --build --preset install --parallel "$jobs"
rm -f "$build"/tarry*.deb "$build"/tarry*.tar.gz
(cd "$build" && cpack >/dev/null)
deb=$(echo "$build"/tarry*.deb) archive=$(echo "$build"/tarry*.tar.gz)
ls -l "$deb" "$archive"

step "lintian"
lintian --fail-on error "$deb"

# Every call that may not run without AVX shows in an emulator that has none; the libraries' own choice at run time does not.
step "Without AVX"
hall=$(mktemp -d)
trap 'rm -rf "$hall"' EXIT
qemu-x86_64 -cpu Nehalem "$build/tarry" hall -o "$hall/slow" --seed 7
qemu-x86_64 -cpu Nehalem "$build/tarry" measure "$hall/slow/spot.wav" "$hall/slow/room.wav"

if ((EUID != 0)); then
    echo "Not root: the bare machine is left out."
    exit 0
fi
step "A bare machine"
if [[ -z $bare ]]; then
    bare=$hall/bare
    mkdir "$bare"
fi
[[ -e $bare/usr/bin/apt-get ]] || debootstrap --variant=minbase bookworm "$bare" >"$hall/log" || { tail "$hall/log"; exit 1; }
rm -f "$bare"/tmp/tarry*
cp "$deb" "$archive" "$bare/tmp/"
inside() { chroot "$bare" env -i PATH=/usr/local/bin:/usr/bin:/bin:/usr/sbin:/sbin HOME=/root LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
works() {
    inside "$1/bin/tarry" --version
    inside "$1/bin/tarry-standalone" --version
    inside sh -c "cd /tmp && rm -rf hall aligned.wav && $1/bin/tarry hall -o hall --seed 7 && $1/bin/tarry print hall/spot.wav hall/room.wav -o aligned.wav"
    local missing
    missing=$(inside sh -c "ldd $1/bin/tarry* \$(find $1/lib/vst3 $1/lib/lv2 -name '*.so') | grep 'not found'") || true
    [[ -z $missing ]] || { echo "Libraries are missing: $missing"; exit 1; }
}
inside sh -c 'apt-get -q update && apt-get -q install -y --no-install-recommends /tmp/tarry*.deb' >"$hall/log" 2>&1 ||
    { tail "$hall/log"; exit 1; }
works /usr
# The archive holds no list of what it needs: what the .deb has brought stays for it.
inside dpkg --purge tarry
left=$(inside find / -xdev -iname '*tarry*' -not -path '/tmp/*' -not -path '/opt/*')
[[ -z $left ]] || { echo "The .deb leaves behind: $left"; exit 1; }
inside sh -c 'rm -rf /opt/tarry && mkdir /opt/tarry && tar -xzf /tmp/tarry*.tar.gz -C /opt/tarry --strip-components=1'
works /opt/tarry
step "The packages work on a bare machine"
