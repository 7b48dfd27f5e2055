# tarry_embed_pages(<target> <file>...)
#
# Builds the parts that pages are made of (style, script, markup) into the target, as pagePart() of Files/PageParts.h
# gives them, by file name.
function(tarry_embed_pages target)
    set(entries "")
    foreach(file IN LISTS ARGN)
        set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
        file(READ "${file}" text)
        get_filename_component(name "${file}" NAME)
        string(APPEND entries "    if (name == \"${name}\") return R\"tarry(${text})tarry\";\n")
    endforeach()
    set(source "${CMAKE_CURRENT_BINARY_DIR}/PageParts.cpp")
    file(CONFIGURE OUTPUT "${source}" @ONLY CONTENT [[
#include "Files/PageParts.h"

#include <stdexcept>
#include <string>

namespace tarry
{
std::string_view pagePart(std::string_view name)
{
@entries@    throw std::logic_error("no part of a page is called " + std::string(name));
}
} // namespace tarry
]])
    target_sources(${target} PRIVATE "${source}")
endfunction()
