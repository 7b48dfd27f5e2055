#include "Files/LaidPair.h"

#include "Core/Ground/Text.h"
#include "Files/Measurement.h"
#include "Files/SoundBlock.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
/// Heard after the end of the spot, where the room's recording goes on: the last hit's way through the hall.
constexpr double roomAfterSpot = 1.0; // s
constexpr int blockFrames = 4096;

std::string inSeconds(double seconds)
{
    return shown(seconds, 3) + " s";
}

/// s from the spot's start to the room's by their time references, which may lie beyond what a double counts exactly.
double apartByStamps(const AudioInfo& spot, const AudioInfo& room)
{
    if (spot.sampleRate == room.sampleRate)
    {
        const auto from = timeReference(spot), to = timeReference(room);
        const auto between = static_cast<double>(to > from ? to - from : from - to) / spot.sampleRate;
        return to > from ? between : -between;
    }
    const auto secondsOf = [](const AudioInfo& info)
    { return static_cast<long double>(timeReference(info)) / info.sampleRate; };
    return static_cast<double>(secondsOf(room) - secondsOf(spot));
}

/// Reads `frames` away.
template <typename Source>
void readAway(Source& source, int channels, std::int64_t frames)
{
    SoundBlock block(channels, blockFrames);
    while (frames > 0)
    {
        const int got =
            source.read(block.pointers.data(), static_cast<int>(std::min<std::int64_t>(blockFrames, frames)));
        if (got == 0) return;
        frames -= got;
    }
}
} // namespace

LaidPair::LaidPair(const std::filesystem::path& spot, const std::filesystem::path& room, bool startTogether)
    : spotFile(spot, maxSpotChannels), roomFile(room, maxRoomChannels),
      roomAtSpotRate(roomFile, spotFile.info().sampleRate), together(startTogether)
{
    stamped = !together && !spotFile.info().broadcast.empty() && !roomFile.info().broadcast.empty();
    if (stamped) apart = apartByStamps(spotFile.info(), roomFile.info());
    if (apart >= spotFile.info().seconds() || -apart >= roomFile.info().seconds())
        throw InputError(spot,
                         "never runs at the same time as " + room.string() + " by their time stamps (" +
                             inSeconds(std::abs(apart)) +
                             " apart): are they of the same take? --start-together takes no notice of the stamps");
    skip();
}

void LaidPair::skip()
{
    const auto frames = std::llround(std::abs(apart) * spotFile.info().sampleRate);
    if (apart > 0.0)
    {
        readAway(spotFile, spotFile.info().channels, frames);
        skipped = position = frames;
    }
    else
        readAway(roomAtSpotRate, roomFile.info().channels, frames);
}

std::vector<std::string> LaidPair::notes() const
{
    const AudioInfo& spot = spotFile.info();
    const AudioInfo& room = roomFile.info();
    std::vector<std::string> notes;
    if (spot.sampleRate != room.sampleRate)
        notes.push_back("The room is at " + std::to_string(room.sampleRate) + " Hz and the spot at " +
                        std::to_string(spot.sampleRate) + " Hz: the room was converted for measuring.");
    if (apart != 0.0)
        notes.push_back("Laid by their time stamps: the room starts " + inSeconds(std::abs(apart)) +
                        (apart > 0.0 ? " after" : " before") + " the spot.");
    if (!together && spot.broadcast.empty() != room.broadcast.empty())
        notes.push_back(std::string("Only the ") + (spot.broadcast.empty() ? "room" : "spot") +
                        " carries a time stamp: both are taken to start together.");
    if (together && !spot.broadcast.empty() && !room.broadcast.empty() && apartByStamps(spot, room) != 0.0)
        notes.push_back("By their time stamps they start " + inSeconds(std::abs(apartByStamps(spot, room))) +
                        " apart: taken to start together, as asked.");
    if (const double lacks = spot.seconds() - apart - room.seconds(); lacks > 1.0)
        notes.push_back("The room ends " + inSeconds(lacks) + " before the spot: hits after that were not heard.");
    return notes;
}

MeasureSettings LaidPair::settings(const std::string& roomChannel, MeasureSettings settings) const
{
    settings.sampleRate = spot().sampleRate;
    settings.spotChannels = spot().channels;
    settings.roomChannels = room().channels;
    settings.roomChannel = roomChannelOf(roomChannel, room());
    return settings;
}

void LaidPair::readAll(const std::function<void(float* const* spot, float* const* room, int frames)>& hear)
{
    SoundBlock spotBlock(spot().channels, blockFrames), roomBlock(room().channels, blockFrames);
    for (int got = blockFrames; got == blockFrames;)
    {
        got = read(spotBlock.pointers.data(), roomBlock.pointers.data(), blockFrames);
        hear(spotBlock.pointers.data(), roomBlock.pointers.data(), got);
    }
}

int LaidPair::read(float* const* spot, float* const* room, int frames)
{
    const AudioInfo& about = spotFile.info();
    const auto end = about.frames + static_cast<std::int64_t>(roomAfterSpot * about.sampleRate);
    const int wanted = static_cast<int>(std::clamp<std::int64_t>(end - position, 0, frames));
    const int got = wanted > 0 ? roomAtSpotRate.read(room, wanted) : 0;
    const int fromSpot = spotGoesOn && got > 0 ? spotFile.read(spot, got) : 0;
    spotGoesOn = fromSpot == got;
    for (int channel = 0; channel < about.channels; ++channel)
        std::fill(spot[channel] + fromSpot, spot[channel] + got, 0.0F);
    position += got;
    return got;
}
} // namespace tarry
