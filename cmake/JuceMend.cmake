# What JUCE gets wrong and a build can put right. Versions of JUCE that have it right are left alone.
get_target_property(juce_modules_path juce::juce_audio_processors INTERFACE_JUCE_MODULE_PATH)

# tarry_mend_vst3(<target>)
#
# JUCE 7.0.5's VST3 wrapper copies a vector for each input bus in every block: it allocates on the audio thread. A mended
# copy of that header, made from the one found, comes first on the include path.
function(tarry_mend_vst3 target)
    # The wrapper's own headers come from beside it, where it is mended (below): to Clang a copy is another header.
    target_include_directories(${target} SYSTEM BEFORE PRIVATE "${PROJECT_BINARY_DIR}/juce-mended/VST3")
    set(header juce_audio_processors/format_types/juce_VST3Common.h)
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${juce_modules_path}/${header}")
    file(READ "${juce_modules_path}/${header}" text)
    string(FIND "${text}" "const auto mapping = map[busIndex];" at)
    if(at EQUAL -1)
        return()
    endif()
    string(REPLACE "const auto mapping = map[busIndex];" "const auto& mapping = map[busIndex];" text "${text}")
    file(CONFIGURE OUTPUT "${PROJECT_BINARY_DIR}/juce-mended/${header}" CONTENT "@text@" @ONLY)
    target_include_directories(${target} SYSTEM BEFORE PRIVATE "${PROJECT_BINARY_DIR}/juce-mended")
endfunction()

# tarry_mend_client(<format> <file> <from> <to>)
#
# JUCE's wrapper for a format, with a line of it replaced: its folder is copied, the file mended, and compiled from there.
function(tarry_mend_client format file from to)
    set(folder juce_audio_plugin_client)
    set(mended "${PROJECT_BINARY_DIR}/juce-mended/${format}")
    if(NOT EXISTS "${juce_modules_path}/${folder}/${file}")
        return()
    endif()
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${juce_modules_path}/${folder}/${file}")
    file(READ "${juce_modules_path}/${folder}/${file}" text)
    string(FIND "${text}" "${from}" at)
    if(at EQUAL -1)
        return()
    endif()
    string(REPLACE "${from}" "${to}" text "${text}")
    get_filename_component(name "${file}" NAME)
    file(COPY "${juce_modules_path}/${folder}" DESTINATION "${mended}" PATTERN "${name}" EXCLUDE)
    file(CONFIGURE OUTPUT "${mended}/${folder}/${file}" CONTENT "@text@" @ONLY)
    get_target_property(sources juce_audio_plugin_client_${format} INTERFACE_SOURCES)
    string(REPLACE "${juce_modules_path}/${folder}/" "${mended}/${folder}/" sources "${sources}")
    set_target_properties(juce_audio_plugin_client_${format} PROPERTIES INTERFACE_SOURCES "${sources}")
endfunction()

# tarry_mend_clients()
function(tarry_mend_clients)
    # JUCE 7.0.5 allocates in every block that is longer than the one before: it asks its buffer to keep what is in it, and
    # a buffer that keeps does not use the room it has.
    tarry_mend_client(LV2 LV2/juce_LV2_Client.cpp
        "static_cast<int> (numSteps), true, false, true)" "static_cast<int> (numSteps), false, false, true)")
    # The presets are a list: without this flag a host's generic screen shows a slider. The file has moved since 7.0.5.
    foreach(file VST3/juce_VST3_Wrapper.cpp juce_audio_plugin_client_VST3.cpp)
        tarry_mend_client(VST3 ${file}
            "Vst::ParameterInfo::kIsProgramChange |"
            "Vst::ParameterInfo::kIsProgramChange | Vst::ParameterInfo::kIsList |")
    endforeach()
endfunction()

# tarry_add_module_info(<target>)
#
# Contents/Resources/moduleinfo.json, from which a host learns what is in the bundle without loading it. JUCE writes it
# from 7.0.6 on.
function(tarry_add_module_info target)
    if(JUCE_VERSION VERSION_GREATER_EQUAL 7.0.6)
        return()
    endif()
    get_target_property(bundle ${target} JUCE_PLUGIN_ARTEFACT_FILE)
    set(info "${CMAKE_CURRENT_BINARY_DIR}/moduleinfo.json")
    configure_file("${PROJECT_SOURCE_DIR}/cmake/moduleinfo.json.in" "${info}" @ONLY)
    add_custom_command(TARGET ${target} POST_BUILD
        COMMAND "${CMAKE_COMMAND}" -E make_directory "${bundle}/Contents/Resources"
        COMMAND "${CMAKE_COMMAND}" -E copy_if_different "${info}" "${bundle}/Contents/Resources/moduleinfo.json"
        VERBATIM)
endfunction()
