# tarry_finish_lv2(<plugin> <uri> <side-chain bus> [<uri of what replaces it>])
#
# Mends the LV2 bundle that JUCE builds: Debian's JUCE gives the plugin's name for its URI, and JUCE does not mark a
# side-chain as one, so that a host feeds the main signal to both inputs. More in Lv2Mend.cmake.
function(tarry_finish_lv2 plugin uri bus)
    target_compile_definitions(${plugin} PUBLIC "JucePlugin_LV2URI=\"${uri}\"")
    add_custom_command(TARGET ${plugin}_LV2 POST_BUILD
        COMMAND "${CMAKE_COMMAND}" "-DBUNDLE=$<TARGET_FILE_DIR:${plugin}_LV2>" "-DBUS=${bus}" "-DREPLACED_BY=${ARGN}"
                -P "${PROJECT_SOURCE_DIR}/cmake/Lv2Mend.cmake"
        COMMENT "Marking the side-chain in the LV2 bundle"
        VERBATIM)
endfunction()
