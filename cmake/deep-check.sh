#!/usr/bin/env bash
# What check.sh leaves out because it takes long: clang-tidy below the plugin; the tests of core, files, command, plugin,
# editor, standalone and the hosts under ASan/UBSan and TSan; the real-time guard over a million blocks; a restless host;
# every fault of the disk; the fuzzers; the same answer from every build; and which lines the tests run, by folder.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"

bash cmake/packages.sh deep

step "Lint the sources below the plugin"
cmake --preset tidy >/dev/null
cmake --build --preset tidy --parallel "$jobs"

# Where the kernel allows it without address randomisation, which older ThreadSanitizers do not bear.
fixed=()
setarch -R true 2>/dev/null && fixed=(setarch -R)
export TSAN_OPTIONS="suppressions=$PWD/Tests/Host/juce.tsan"
for sanitizer in asan tsan; do
    step "Tests of core, files and command under $sanitizer"
    cmake --preset "$sanitizer" >/dev/null
    cmake --build --preset "$sanitizer" --parallel "$jobs" --target core-tests files-tests command-tests
    ${fixed[@]+"${fixed[@]}"} ctest --preset "$sanitizer" --parallel "$jobs" -R '^(core|files|command)-tests'
done
for sanitizer in asan-plugin tsan-plugin; do
    step "Plugin, editor, standalone and hosts under $sanitizer (JUCE is built for it: some minutes)"
    cmake --preset "$sanitizer" >/dev/null
    cmake --build --preset "$sanitizer" --parallel "$jobs" --target plugin-tests editor-tests standalone-tests module-tests host-tests
    env -u DISPLAY ${fixed[@]+"${fixed[@]}"} ctest --preset "$sanitizer" --parallel "$jobs" -R '^(plugin|editor|standalone|module|host)-tests'
done

step "The real-time guard over a million blocks of each built module; both plan at once for a minute"
cmake --preset release >/dev/null
cmake --build --preset release --parallel "$jobs" --target module-tests
TARRY_BLOCKS=1000000 TARRY_SECONDS=60 build/release/Tests/Host/module-tests

step "A host that does everything in random order"
cmake --build --preset release --parallel "$jobs" --target host-tests
TARRY_ACTS=2000 build/release/Tests/Host/host-tests "a restless*"

step "Every call that can fail, each time it is made; killed at a thousand moments"
cmake --build --preset release --parallel "$jobs" --target command-tests
TARRY_FAULTS_OF_A_CALL=100000 TARRY_KILLS=1000 build/release/Tests/Command/command-tests "[faults]"

step "In Ardour ten times over, where it is: rendered while measuring, looped, measured, reopened, given presets"
for format in VST3 LV2; do
    TARRY_TIMES=10 Tests/Host/ardour.sh $format build/release/Source/Plugin/Tarry_artefacts/Release/$format build/release/tarry ||
        [[ $? == 77 ]]
done

if [[ -n $(command -v clang++) ]]; then
    step "Fuzzing, a minute each"
    watched=$(bash Tests/Fuzz/sndfile.sh build/fuzz-sndfile) || echo "libsndfile as installed: its source could not be had"
    cmake --preset fuzz >/dev/null
    cmake --build --preset fuzz --parallel "$jobs" --target fuzz
    for corpus in Tests/Fuzz/Corpus/*; do
        name=$(basename "$corpus")
        fresh=$(mktemp -d) # what is found goes there: only what is worth keeping is put into the corpus, by hand
        LD_LIBRARY_PATH=$watched build/fuzz/Tests/Fuzz/fuzz-"${name,,}" -max_total_time=60 -verbosity=0 -print_final_stats=1 \
            -artifact_prefix=build/fuzz/ "$fresh" "$corpus"
        rm -rf "$fresh"
    done
fi

step "The same answer from every build"
bash cmake/same-answer.sh

step "Pages in a browser"
if bash Tests/Pages/setup.sh; then
    cmake --preset release >/dev/null
    cmake --build --preset release --parallel "$jobs" --target pages-tests
    env -u DISPLAY ctest --preset release -R '^pages-tests'
else
    echo "skipped: what drives the browser could not be installed"
fi

step "Coverage"
cmake --preset coverage >/dev/null
cmake --build --preset coverage --parallel "$jobs"
find build/coverage -name '*.gcda' -delete
env -u DISPLAY ctest --preset coverage --parallel "$jobs" --label-exclude package
# Lines, by folder: gcovr's table is by file, with the columns file, lines, lines that ran.
gcovr --root . --object-directory build/coverage --filter Source/ --csv 2>/dev/null | awk -F, '
    NR > 1 {
        folder = $1; sub(/\/[^\/]*$/, "", folder)
        for (;;) { lines[folder] += $2; ran[folder] += $3; if (!sub(/\/[^\/]*$/, "", folder)) break }
    }
    END { for (f in lines) printf "%-28s %5d of %5d lines ran: %5.1f %%\n", f, ran[f], lines[f], 100 * ran[f] / lines[f] }' | sort
step "Done"
