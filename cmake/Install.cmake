# cmake --install <build> --prefix <where>: the command and the standalone to bin, the plugins to lib/vst3 and lib/lv2, where
# hosts look for them below /usr and /usr/local.
include(GNUInstallDirs)
install(TARGETS tarry RUNTIME)
if(TARRY_PLUGIN)
    if(TARGET Tarry_Standalone)
        install(TARGETS Tarry_Standalone RUNTIME)
    endif()
    install(DIRECTORY "$<GENEX_EVAL:$<TARGET_PROPERTY:Tarry_VST3,JUCE_PLUGIN_ARTEFACT_FILE>>" DESTINATION lib/vst3 USE_SOURCE_PERMISSIONS)
    install(DIRECTORY "$<GENEX_EVAL:$<TARGET_PROPERTY:Tarry_LV2,JUCE_PLUGIN_ARTEFACT_FILE>>" DESTINATION lib/lv2 USE_SOURCE_PERMISSIONS)
endif()
