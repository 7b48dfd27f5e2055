#!/usr/bin/env bash
# Builds the bench and prints every table of figures that the README has, as Markdown: how often the lag is right and how
# well the confidence keeps its word, family by family, on seeds and instruments that shaped nothing; and the speed.
#   figures.sh [scenes a tier, default 36] [set, default judging]
# The recorded instruments come with Debian's packages (cmake/packages.txt, part bench). Two things no package carries;
# their rows are left out where they are absent, and said to be:
#   real-hits   a real kit, recorded by several microphones at once: cut from MuldjordKit by Lars Muldjord, CC BY 4.0,
#               which DrumGizmo offers (drumgizmo.org); a folder of pairs with reference.csv
#   real-rooms  responses measured in halls, a church, a warehouse: OpenAIR (openair.hosted.york.ac.uk), CC BY and
#               CC BY-SA, and web-audio-samples (GitHub, GoogleChromeLabs), Apache-2.0; a folder with manifest.csv
# Both are looked for in TARRY_SHARED, else in ../shared. Scenes are kept in build/scenes: a second run takes minutes.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
scenes=${1:-36} set=${2:-judging}

bash cmake/packages.sh bench
step "Build into build/bench"
cmake --preset bench >/dev/null
cmake --build --preset bench --parallel "$jobs" --target tarry-accuracy tarry-speed

shared=${TARRY_SHARED:-../shared}
more=()
if [[ -f $shared/real-hits/reference.csv ]]; then
    more+=(--real "$shared/real-hits")
else
    echo "left out: the family real; no $shared/real-hits (MuldjordKit by Lars Muldjord, CC BY 4.0: see $0)"
fi
if [[ -f $shared/real-rooms/manifest.csv ]]; then
    more+=(--rooms "$shared/real-rooms")
else
    echo "left out: the family rooms; no $shared/real-rooms (OpenAIR and others: see $0)"
fi

step "How often the lag is right: $scenes scenes a tier, $set seeds"
echo "real: a recorded kit; rooms: recorded instruments in measured rooms; instruments, stage: recorded instruments in"
echo "made-up halls; unseen: in halls of another making; all else: made up. Made-up halls flatter every method."
build/bench/Tests/Bench/tarry-accuracy --set "$set" --scenes "$scenes" --cache build/scenes --jobs "$jobs" \
    --out build/figures "${more[@]+"${more[@]}"}"
echo "Every scene: build/figures/accuracy-$set.csv; a picture: build/figures/accuracy-$set.svg"

step "Speed"
build/bench/Tests/Bench/tarry-speed
Tests/Bench/commands.py build/bench/tarry
step "Done"
