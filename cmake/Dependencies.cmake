# Each library: the machine's own first (Debian's names are in packages.txt), a pinned fetch of its source where it is
# absent. What is fetched is never warned about.
include(FetchContent)
find_package(PkgConfig REQUIRED)

# FFTW3 and libsndfile have dependencies of their own (generated code, codecs) that a fetch would not bring: say so.
function(tarry_find_library prefix module package)
    pkg_check_modules(${prefix} QUIET IMPORTED_TARGET GLOBAL ${module})
    if(NOT ${prefix}_FOUND)
        message(FATAL_ERROR "Tarry needs the library ${module}, with its pkg-config file: on Debian, apt-get install ${package}")
    endif()
endfunction()
tarry_find_library(FFTW3 fftw3 libfftw3-dev)
add_library(FFTW3::fftw3 ALIAS PkgConfig::FFTW3)
tarry_find_library(SNDFILE sndfile libsndfile1-dev)

FetchContent_Declare(nlohmann_json GIT_REPOSITORY https://github.com/nlohmann/json.git GIT_TAG v3.11.3
    GIT_SHALLOW ON SYSTEM FIND_PACKAGE_ARGS)
FetchContent_Declare(CLI11 GIT_REPOSITORY https://github.com/CLIUtils/CLI11.git GIT_TAG v2.4.2
    GIT_SHALLOW ON SYSTEM FIND_PACKAGE_ARGS)
FetchContent_Declare(Catch2 GIT_REPOSITORY https://github.com/catchorg/Catch2.git GIT_TAG v3.5.4
    GIT_SHALLOW ON SYSTEM FIND_PACKAGE_ARGS) # 2 or 3: Tests/Support/Catch.h serves both
FetchContent_Declare(JUCE GIT_REPOSITORY https://github.com/juce-framework/JUCE.git GIT_TAG 7.0.12
    GIT_SHALLOW ON SYSTEM FIND_PACKAGE_ARGS CONFIG) # its version file knows only 'exactly', so checked below

FetchContent_MakeAvailable(nlohmann_json CLI11)
if(TARRY_TESTS OR TARRY_BENCH)
    FetchContent_MakeAvailable(Catch2)
endif()
if(TARRY_PLUGIN)
    FetchContent_MakeAvailable(JUCE)
    if(JUCE_FOUND AND JUCE_VERSION VERSION_LESS 7.0.5)
        message(FATAL_ERROR "JUCE ${JUCE_VERSION} in ${JUCE_DIR} is too old: Tarry needs 7.0.5 or later")
    endif()
    # JUCE's modules are not imported targets even when found: without this our warnings would fall on its headers.
    get_property(juce_modules GLOBAL PROPERTY _juce_module_names)
    set_target_properties(${juce_modules} PROPERTIES SYSTEM ON)
endif()

find_program(TARRY_CCACHE ccache)
if(TARRY_CCACHE)
    set(CMAKE_C_COMPILER_LAUNCHER "${TARRY_CCACHE}")
    set(CMAKE_CXX_COMPILER_LAUNCHER "${TARRY_CCACHE}")
endif()
