# tarry_finish_lv2(<plugin> URI <uri> SIDE_CHAIN <bus> PORTS <name>... CLASS <class> LICENCE <uri> COMMENT <text>
#                  [REPLACED_BY <uri>] ENABLED <parameter> UNITS <parameter>=<unit>... STEPS <parameter>=<name>,<name>...)
#
# Mends the LV2 bundle that JUCE builds. Debian's JUCE gives the plugin's name for its URI; the rest of what JUCE leaves
# out or gets wrong is in Lv2Mend.cmake, run after each build. PORTS: inputs, then outputs, in the order of the buses.
# ENABLED: the parameter that LV2's own `enabled` port stands for.
function(tarry_finish_lv2 plugin)
    cmake_parse_arguments(PARSE_ARGV 1 arg "" "URI;SIDE_CHAIN;REPLACED_BY;CLASS;LICENCE;COMMENT;ENABLED" "PORTS;UNITS;STEPS")
    target_compile_definitions(${plugin} PUBLIC "JucePlugin_LV2URI=\"${arg_URI}\"")
    foreach(list PORTS UNITS STEPS)
        string(REPLACE ";" "|" ${list} "${arg_${list}}")
    endforeach()
    add_custom_command(TARGET ${plugin}_LV2 POST_BUILD
        COMMAND "${CMAKE_COMMAND}" "-DBUNDLE=$<TARGET_FILE_DIR:${plugin}_LV2>" "-DBUS=${arg_SIDE_CHAIN}"
                "-DREPLACED_BY=${arg_REPLACED_BY}"
                "-DPORTS=${PORTS}" "-DCLASS=${arg_CLASS}" "-DLICENCE=${arg_LICENCE}" "-DCOMMENT=${arg_COMMENT}"
                "-DENABLED=${arg_ENABLED}" "-DUNITS=${UNITS}" "-DSTEPS=${STEPS}"
                -P "${PROJECT_SOURCE_DIR}/cmake/Lv2Mend.cmake"
        COMMENT "Finishing the LV2 bundle"
        VERBATIM)
endfunction()
