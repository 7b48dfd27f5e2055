# Each library: the machine's own first (Debian's names are in packages.txt), a pinned fetch of its source where it is
# absent. What is fetched is never warned about.
include(FetchContent)
find_package(PkgConfig QUIET)

# tarry_find_library(<prefix> <pkg-config module> <Debian package> <header> <library>...): the target PkgConfig::<prefix>,
# also where there is no pkg-config (Windows), by header and library. These have dependencies of their own (generated code,
# codecs) that a fetch would not bring: where one is absent, say so.
function(tarry_find_library prefix module package header)
    if(PkgConfig_FOUND)
        pkg_check_modules(${prefix} QUIET IMPORTED_TARGET GLOBAL ${module})
    endif()
    if(TARGET PkgConfig::${prefix})
        return()
    endif()
    find_path(${prefix}_HEADERS ${header})
    find_library(${prefix}_LIBRARY NAMES ${ARGN})
    if(NOT ${prefix}_HEADERS OR NOT ${prefix}_LIBRARY)
        message(FATAL_ERROR "Tarry needs the library ${module}: on Debian, apt-get install ${package}; elsewhere, where it is "
            "not found by itself, say where with -DCMAKE_PREFIX_PATH=")
    endif()
    add_library(PkgConfig::${prefix} UNKNOWN IMPORTED GLOBAL)
    set_target_properties(PkgConfig::${prefix} PROPERTIES
        IMPORTED_LOCATION "${${prefix}_LIBRARY}" INTERFACE_INCLUDE_DIRECTORIES "${${prefix}_HEADERS}")
endfunction()
tarry_find_library(FFTW3 fftw3 libfftw3-dev fftw3.h fftw3 fftw3-3)
add_library(FFTW3::fftw3 ALIAS PkgConfig::FFTW3)
tarry_find_library(SNDFILE sndfile libsndfile1-dev sndfile.h sndfile)

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
