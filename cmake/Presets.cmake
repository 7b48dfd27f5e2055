# tarry_embed_presets(<target> <file>...)
#
# Builds the preset files into the target, as ownPresetFiles() of Plugin/Presets.h, in this order.
function(tarry_embed_presets target)
    set(entries "")
    foreach(file IN LISTS ARGN)
        set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
        file(READ "${file}" text)
        get_filename_component(name "${file}" NAME)
        string(APPEND entries "        {\"${name}\", R\"tarry(${text})tarry\"},\n")
    endforeach()
    set(source "${CMAKE_CURRENT_BINARY_DIR}/OwnPresetFiles.cpp")
    file(CONFIGURE OUTPUT "${source}" @ONLY CONTENT [[
#include "Plugin/Presets.h"

namespace tarry
{
const std::vector<PresetFile>& ownPresetFiles()
{
    static const std::vector<PresetFile> files{
@entries@    };
    return files;
}
} // namespace tarry
]])
    target_sources(${target} PRIVATE "${source}")
endfunction()
