#pragma once
#include "Core/Ground/Settings.h"
#include "Files/RateConverter.h"

#include <functional>
#include <string>

namespace tarry
{
/// Spot and room laid beside each other in time, read together at the spot's rate. Where both carry a broadcast wave's
/// time reference (EBU Tech 3285: samples since midnight, at the file's own rate) they are laid by it, to the spot's
/// sample; else they are taken to start together, and `notes` says so.
class LaidPair
{
public:
    /// Opens both files. Throws InputError, also where by their time references they never run at once.
    /// startTogether: whatever their time references say.
    LaidPair(const std::filesystem::path& spot, const std::filesystem::path& room, bool startTogether = false);

    [[nodiscard]] const AudioInfo& spot() const { return spotFile.info(); }
    [[nodiscard]] const AudioInfo& room() const { return roomFile.info(); }
    [[nodiscard]] bool byTimeStamp() const { return stamped; }
    [[nodiscard]] double roomStartsAfter() const { return apart; } ///< s; negative: before the spot
    [[nodiscard]] std::int64_t start() const { return skipped; }   ///< frame of the spot at which reading starts
    [[nodiscard]] std::vector<std::string> notes() const;          ///< for a mixer, one sentence each

    /// The settings with what measuring has to know of the files. roomChannel: first, left, right, centre, or a number
    /// from 1. Throws InputError where the room has no such channel.
    [[nodiscard]] MeasureSettings settings(const std::string& roomChannel, MeasureSettings settings = {}) const;

    /// The next frames, one buffer a channel: until the room ends, or one second after the spot's end, which is heard
    /// as silence. Returns how many; fewer than asked for only at the end.
    int read(float* const* spot, float* const* room, int frames);

    /// All that `read` gives, block by block.
    void readAll(const std::function<void(float* const* spot, float* const* room, int frames)>& hear);

private:
    void skip();

    AudioReader spotFile, roomFile;
    RateConverter roomAtSpotRate;
    bool stamped = false, together;
    double apart = 0.0;
    std::int64_t skipped = 0, position = 0; // frames of the spot
    bool spotGoesOn = true;
};
} // namespace tarry
