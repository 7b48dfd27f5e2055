# -DTARRY_SANITIZE=address,undefined or thread: for every target, ours and JUCE's.
set(TARRY_SANITIZE "" CACHE STRING "Sanitizers to build with, as -fsanitize takes them")
if(TARRY_SANITIZE)
    add_compile_options(-fsanitize=${TARRY_SANITIZE} -fno-omit-frame-pointer -fno-sanitize-recover=all)
    add_link_options(-fsanitize=${TARRY_SANITIZE})
    # GCC's checks for these mistake the sanitizers' own code, even in the standard library's headers.
    target_compile_options(tarry_warnings INTERFACE "$<$<CXX_COMPILER_ID:GNU>:-Wno-maybe-uninitialized;-Wno-array-bounds;-Wno-stringop-overflow;-Wno-stringop-overread>")
endif()

# -DTARRY_COVERAGE=ON: our own targets count which of their lines ran (gcov), for deep-check.sh.
option(TARRY_COVERAGE "Count which lines run" OFF)
if(TARRY_COVERAGE)
    target_compile_options(tarry_warnings INTERFACE --coverage -fprofile-update=atomic)
    target_link_options(tarry_warnings INTERFACE --coverage)
endif()
