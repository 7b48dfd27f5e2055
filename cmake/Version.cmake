# tarry_add_version(<target>): gives the target Core/Ground/Version.cpp, written anew by each build in which the answer of
# `git describe` is another one.
#
# Run as a script it writes that file: cmake -DSOURCE=<top> -DVERSION=<x.y.z> -DINTO=<file> -P Version.cmake
if(CMAKE_SCRIPT_MODE_FILE)
    set(TARRY_VERSION "${VERSION}")
    set(TARRY_BUILD "")
    find_program(git git)
    if(git)
        # --git-dir: a tarball inside somebody else's repository is not to be called after that.
        execute_process(COMMAND "${git}" "--git-dir=${SOURCE}/.git" "--work-tree=${SOURCE}" describe --tags --always --dirty
            OUTPUT_VARIABLE TARRY_BUILD OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
    endif()
    configure_file("${SOURCE}/Source/Core/Ground/Version.cpp.in" "${INTO}" @ONLY) # touched only where it differs
    return()
endif()

function(tarry_add_version target)
    set(into "${CMAKE_CURRENT_BINARY_DIR}/Version.cpp")
    add_custom_target(${target}_version
        COMMAND "${CMAKE_COMMAND}" "-DSOURCE=${PROJECT_SOURCE_DIR}" "-DVERSION=${PROJECT_VERSION}" "-DINTO=${into}"
                -P "${CMAKE_CURRENT_FUNCTION_LIST_FILE}"
        BYPRODUCTS "${into}"
        COMMENT "Asking git for the build's name"
        VERBATIM)
    add_dependencies(${target} ${target}_version)
    target_sources(${target} PRIVATE "${into}")
endfunction()
