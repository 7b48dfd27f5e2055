#pragma once
#include "Files/Measurement.h"

#include <functional>

namespace tarry
{
/// Two files, and how one is to be measured against the other.
struct MeasureJob
{
    std::filesystem::path spot, room;
    MeasureSettings settings;          ///< but rates and channels, which are the files'
    std::string roomChannel = "first"; ///< first, left, right, centre, or a number from 1
    bool startTogether = false;        ///< whatever the files' time stamps say
    bool eachSide = false;             ///< each side of a stereo spot by its own lag
    std::optional<double> taped;       ///< m, as measured with a tape
    Names names;

    bool operator==(const MeasureJob&) const = default;
};

/// Lays the spot beside the room, and measures from start to end, block by block; memory does not grow with their
/// length. howFar: told now and then, seconds of all seconds. Throws InputError.
[[nodiscard]] Measurement measureFiles(const MeasureJob& job,
                                       const std::function<void(double seconds, double ofSeconds)>& howFar = {});
} // namespace tarry
