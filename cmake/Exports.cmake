# tarry_export_only(<target> <function>...)
#
# Hides every symbol of a plugin's binary but those by which a host enters it: two of them in one process (VST3 and LV2, two
# versions) would otherwise use each other's functions and data.
function(tarry_export_only target)
    if(NOT UNIX OR APPLE)
        return() # elsewhere nothing is exported that does not say so
    endif()
    list(JOIN ARGN ";\n        " names)
    set(script "${CMAKE_CURRENT_BINARY_DIR}/${target}.exports")
    file(CONFIGURE OUTPUT "${script}" CONTENT "{\n    global:\n        ${names};\n    local:\n        *;\n};\n")
    target_link_options(${target} PRIVATE "LINKER:--version-script=${script}")
    set_property(TARGET ${target} APPEND PROPERTY LINK_DEPENDS "${script}")
endfunction()
