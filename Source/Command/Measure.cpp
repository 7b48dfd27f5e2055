#include "Command/Measure.h"

#include "Command/Progress.h"
#include "Core/Ground/Text.h"
#include "Core/Measuring.h"
#include "Core/Report/Verdict.h"
#include "Files/AudioReader.h"
#include "Files/RateConverter.h"

#include <algorithm>
#include <cmath>

namespace tarry::command
{
namespace
{
constexpr int blockFrames = 4096;

/// Heard after the end of the spot, where the room's recording goes on: the last hit's way through the hall.
constexpr double roomAfterSpot = 1.0; // s

/// Blocks of several channels.
struct Block
{
    explicit Block(int channels) : samples(static_cast<std::size_t>(channels), std::vector<float>(blockFrames))
    {
        for (auto& channel : samples) pointers.push_back(channel.data());
    }

    void silenceFrom(int frame)
    {
        for (auto& channel : samples) std::fill(channel.begin() + frame, channel.end(), 0.0F);
    }

    std::vector<std::vector<float>> samples;
    std::vector<float*> pointers;
};

std::string inSeconds(double seconds)
{
    return fixed(seconds, 3) + " s";
}

/// Channel from 0, or -1 for the first arrival. In files of three channels and more the third is the centre, as WAV
/// orders them; a single channel is left, right and centre alike.
int roomChannelOf(const std::string& which, const AudioInfo& room)
{
    if (which == "first") return -1;
    int channel = 0;
    if (which == "right")
        channel = room.channels > 1 ? 1 : 0;
    else if (which == "centre")
    {
        if (room.channels == 2)
            throw InputError(room.file, "has two channels, so no centre: give left, right or first");
        channel = room.channels > 2 ? 2 : 0;
    }
    else if (which != "left")
        channel = std::stoi(which) - 1;
    if (channel >= room.channels)
        throw InputError(room.file, "has " + std::to_string(room.channels) + " channel(s), so no channel " + which +
                                        ": choose another --room-channel");
    return channel;
}

MeasureSettings settingsFor(const MeasureOptions& options, const AudioInfo& spot, const AudioInfo& room)
{
    MeasureSettings settings;
    settings.sampleRate = spot.sampleRate;
    settings.spotChannels = spot.channels;
    settings.roomChannels = room.channels;
    settings.reach = options.reachMs / 1e3;
    settings.lookAhead = options.lookAheadMs / 1e3;
    settings.clap = options.clap;
    settings.temperature = options.temperature;
    settings.roomChannel = roomChannelOf(options.roomChannel, room);
    return settings;
}

std::vector<std::string> notesOn(const AudioInfo& spot, const AudioInfo& room)
{
    std::vector<std::string> notes;
    if (spot.sampleRate != room.sampleRate)
        notes.push_back("The room is at " + std::to_string(room.sampleRate) + " Hz and the spot at " +
                        std::to_string(spot.sampleRate) + " Hz: the room was converted for measuring.");
    if (room.seconds() < spot.seconds() - 1.0)
        notes.push_back("The room ends " + inSeconds(spot.seconds() - room.seconds()) +
                        " before the spot: hits after that were not heard.");
    if (!spot.broadcast.empty() && !room.broadcast.empty())
    {
        const double apart = static_cast<double>(timeReference(room)) / room.sampleRate -
                             static_cast<double>(timeReference(spot)) / spot.sampleRate;
        if (std::abs(apart) >= 0.5 / spot.sampleRate)
            notes.push_back("By their time stamps the room starts " + inSeconds(std::abs(apart)) +
                            (apart > 0 ? " after" : " before") +
                            " the spot: the lag is between the files as if they started together.");
    }
    return notes;
}
} // namespace

Measurement measure(const MeasureOptions& options)
{
    AudioReader spot(options.spot, maxSpotChannels);
    AudioReader room(options.room, maxRoomChannels);
    RateConverter roomAtSpotRate(room, spot.info().sampleRate);

    Measurement measurement;
    measurement.spot = spot.info();
    measurement.room = room.info();
    measurement.settings = settingsFor(options, spot.info(), room.info());
    measurement.eachSide = options.eachSide && spot.info().channels == 2;
    measurement.taped = options.taped;
    measurement.notes = notesOn(spot.info(), room.info());

    Measuring measuring;
    measuring.prepare(measurement.settings);

    // The room decides where it ends: without it there is nothing to measure.
    const auto rate = static_cast<double>(spot.info().sampleRate);
    const auto limit = spot.info().frames + static_cast<std::int64_t>(roomAfterSpot * rate);
    Progress progress("Measuring", std::min(limit, static_cast<std::int64_t>(room.info().seconds() * rate)),
                      spot.info().sampleRate);
    Block spotBlock(spot.info().channels);
    Block roomBlock(room.info().channels);
    bool spotGoesOn = true;
    for (std::int64_t frame = 0; frame < limit;)
    {
        const int wanted = static_cast<int>(std::min<std::int64_t>(blockFrames, limit - frame));
        const int got = roomAtSpotRate.read(roomBlock.pointers.data(), wanted);
        if (got == 0) break;
        const int fromSpot = spotGoesOn ? spot.read(spotBlock.pointers.data(), got) : 0;
        spotGoesOn = fromSpot == got;
        spotBlock.silenceFrom(fromSpot);
        measuring.process(spotBlock.pointers.data(), roomBlock.pointers.data(), got);
        measuring.gather();
        frame += got;
        progress.at(frame);
    }
    measuring.finish();
    measuring.work();
    measurement.report = measuring.report();
    judge(measurement.report, spot.info().seconds()); // how long the cue is, only the files know
    return measurement;
}
} // namespace tarry::command
