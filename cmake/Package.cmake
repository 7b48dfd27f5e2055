# cpack --config <build>/CPackConfig.cmake: a .deb and a .tar.gz (ZIP on Windows) of what cmake --install puts in place.
set(TARRY_CONTACT "The Tarry authors <authors@tarry.invalid>" CACHE STRING "Who looks after the package: NAME <MAIL>") # no mailbox yet
set(CPACK_PACKAGE_NAME "tarry")
set(CPACK_PACKAGE_VENDOR "The Tarry authors")
set(CPACK_PACKAGE_CONTACT "${TARRY_CONTACT}")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "aligns a drum's spot microphone with the room")
set(CPACK_PACKAGE_DESCRIPTION "Measures by how much a room microphone hears a drum later
than its close microphone, delays the close one until both
attacks land together, chooses the polarity, and says how sure
it is. As a plugin (VST3, LV2), a standalone, and a command.")
set(CPACK_RESOURCE_FILE_LICENSE "${PROJECT_SOURCE_DIR}/LICENSE")
set(CPACK_STRIP_FILES TRUE)
set(CPACK_VERBATIM_VARIABLES TRUE)
if(WIN32)
    set(CPACK_GENERATOR ZIP)
elseif(APPLE)
    set(CPACK_GENERATOR TGZ)
else()
    set(CPACK_GENERATOR DEB TGZ)
    set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
    set(CPACK_DEBIAN_PACKAGE_SECTION sound)
    set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS TRUE)
    # What JUCE opens only when there is a screen, so that no linker tells of it; and letters to write with.
    set(CPACK_DEBIAN_PACKAGE_DEPENDS "libx11-6, libxcursor1, libxext6, libxinerama1, libxrandr2, fonts-dejavu-core")
    set(CPACK_DEBIAN_PACKAGE_SUGGESTS "jackd")
    set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION TRUE)
endif()
include(CPack)
