#pragma once
#include <string>

namespace tarry
{
/// What a setup and its recording are called, UTF-8; empty where nobody has said.
struct Names
{
    std::string spot, room; ///< as on the host's tracks, or by hand
    std::string cue, take, date;

    bool operator==(const Names&) const = default;
};
} // namespace tarry
