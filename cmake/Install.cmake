# cmake --install <build> [--prefix <where>]: everything where its system looks for it. On Linux below the prefix, and for one
# user with --prefix ~/.local, but for the plugins then, which hosts look for in ~/.vst3 and ~/.lv2. Target uninstall takes
# it all back.
include(GNUInstallDirs)
set(package "${PROJECT_SOURCE_DIR}/cmake/package")
set(made "${PROJECT_BINARY_DIR}/package")

install(TARGETS tarry RUNTIME)
install(FILES "${PROJECT_SOURCE_DIR}/LICENSE" "${package}/copyright" DESTINATION "${CMAKE_INSTALL_DOCDIR}")
install(DIRECTORY "${PROJECT_SOURCE_DIR}/Presets" DESTINATION "${CMAKE_INSTALL_DATADIR}/tarry")

# Where hosts look for plugins.
if(APPLE)
    set(plugins "/Library/Audio/Plug-Ins")
    set(vst3 "${plugins}/VST3")
    set(lv2 "${plugins}/LV2")
    set(au "${plugins}/Components")
elseif(WIN32)
    file(TO_CMAKE_PATH "$ENV{CommonProgramFiles}" common)
    set(vst3 "${common}/VST3")
    set(lv2 "${common}/LV2")
else()
    install(CODE [[
        set(tarry_vst3 "lib/vst3")
        set(tarry_lv2 "lib/lv2")
        if(CMAKE_INSTALL_PREFIX STREQUAL "$ENV{HOME}/.local")
            set(tarry_vst3 "../.vst3")
            set(tarry_lv2 "../.lv2")
        endif()]])
    set(vst3 "\${tarry_vst3}")
    set(lv2 "\${tarry_lv2}")
endif()
set(TARRY_VST3_DIR "${vst3}" CACHE STRING "Where the VST3 goes; relative to the prefix, or absolute")
set(TARRY_LV2_DIR "${lv2}" CACHE STRING "Where the LV2 goes; relative to the prefix, or absolute")
set(TARRY_AU_DIR "${au}" CACHE STRING "Where the AU goes (macOS); relative to the prefix, or absolute")
function(tarry_install_plugin target where name)
    if(TARGET ${target})
        install(DIRECTORY "$<GENEX_EVAL:$<TARGET_PROPERTY:${target},JUCE_PLUGIN_ARTEFACT_FILE>>/" DESTINATION "${where}/${name}"
            USE_SOURCE_PERMISSIONS)
        if(UNIX AND NOT APPLE) # as TARGETS are by themselves: cpack, cmake --install --strip
            install(CODE "
                if(CMAKE_INSTALL_DO_STRIP)
                    file(GLOB_RECURSE objects \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${where}/${name}/*.so\")
                    execute_process(COMMAND \"${CMAKE_STRIP}\" --strip-unneeded \${objects} COMMAND_ERROR_IS_FATAL ANY)
                endif()")
        endif()
    endif()
endfunction()
tarry_install_plugin(Tarry_VST3 "${TARRY_VST3_DIR}" Tarry.vst3)
tarry_install_plugin(Tarry_LV2 "${TARRY_LV2_DIR}" Tarry.lv2)
tarry_install_plugin(TarryFormer_LV2 "${TARRY_LV2_DIR}" Tarry-former.lv2)
tarry_install_plugin(Tarry_AU "${TARRY_AU_DIR}" Tarry.component)
if(TARGET Tarry_Standalone)
    install(TARGETS Tarry_Standalone RUNTIME BUNDLE DESTINATION .)
endif()

# Linux and the like: manual pages, completions, desktop entry, icon.
if(UNIX AND NOT APPLE)
    set(asked "")
    if(NOT CMAKE_CROSSCOMPILING)
        set(asked "-DCOMMAND=$<TARGET_FILE:tarry>")
    endif()
    # Packed as Debian wants it, without a date, where there is a gzip.
    find_program(gzip gzip REQUIRED)
    function(tarry_install_packed file name where)
        add_custom_command(OUTPUT "${made}/${name}.gz" COMMAND "${gzip}" -9nc "${file}" > "${made}/${name}.gz"
            DEPENDS "${file}" VERBATIM)
        set_property(GLOBAL APPEND PROPERTY tarry_made "${made}/${name}.gz")
        install(FILES "${made}/${name}.gz" DESTINATION "${where}")
    endfunction()
    tarry_install_packed("${package}/changelog" changelog "${CMAKE_INSTALL_DOCDIR}")
    function(tarry_man_page name)
        add_custom_command(OUTPUT "${made}/${name}.1"
            COMMAND "${CMAKE_COMMAND}" "-DTEMPLATE=${package}/${name}.1.in" "-DVERSION=${PROJECT_VERSION}" ${ARGN}
                    "-DINTO=${made}/${name}.1" -P "${PROJECT_SOURCE_DIR}/cmake/ManPage.cmake"
            DEPENDS "${package}/${name}.1.in" "${PROJECT_SOURCE_DIR}/cmake/ManPage.cmake" tarry
            COMMENT "Manual page of ${name}"
            VERBATIM)
        tarry_install_packed("${made}/${name}.1" ${name}.1 "${CMAKE_INSTALL_MANDIR}/man1")
    endfunction()
    tarry_man_page(tarry ${asked})
    install(FILES "${package}/tarry.bash" DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions" RENAME tarry)
    install(FILES "${package}/_tarry" DESTINATION "${CMAKE_INSTALL_DATADIR}/zsh/site-functions")
    install(FILES "${package}/tarry.fish" DESTINATION "${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d")
    if(TARGET Tarry_Standalone)
        tarry_man_page(tarry-standalone)
        install(FILES "${package}/tarry.desktop" DESTINATION "${CMAKE_INSTALL_DATADIR}/applications")
        set(icons "${CMAKE_INSTALL_DATADIR}/icons/hicolor")
        install(FILES "${package}/tarry.svg" DESTINATION "${icons}/scalable/apps")
        find_program(rsvg_convert rsvg-convert) # Debian: librsvg2-bin; without it the drawing alone
        if(rsvg_convert)
            foreach(size 16 24 32 48 64 128 256)
                set(png "${made}/icons/${size}/tarry.png")
                add_custom_command(OUTPUT "${png}"
                    COMMAND "${CMAKE_COMMAND}" -E make_directory "${made}/icons/${size}"
                    COMMAND "${rsvg_convert}" -w ${size} -h ${size} -o "${png}" "${package}/tarry.svg"
                    DEPENDS "${package}/tarry.svg"
                    COMMENT "Icon of ${size} pixels"
                    VERBATIM)
                set_property(GLOBAL APPEND PROPERTY tarry_made "${png}")
                install(FILES "${png}" DESTINATION "${icons}/${size}x${size}/apps")
            endforeach()
        endif()
    endif()
    get_property(all_made GLOBAL PROPERTY tarry_made)
    add_custom_target(tarry_package_files ALL DEPENDS ${all_made})
endif()

add_custom_target(uninstall
    COMMAND "${CMAKE_COMMAND}" "-DMANIFEST=${PROJECT_BINARY_DIR}/install_manifest.txt" -P "${PROJECT_SOURCE_DIR}/cmake/Uninstall.cmake"
    COMMENT "Taking back what cmake --install has put in place"
    VERBATIM)
