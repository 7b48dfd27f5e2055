#include "Command/Measure.h"

#include "Command/Progress.h"
#include "Core/Measuring.h"
#include "Core/Report/Verdict.h"
#include "Files/ClipCheck.h"
#include "Files/LaidPair.h"

namespace tarry::command
{
namespace
{
constexpr int blockFrames = 4096;

/// Blocks of several channels.
struct Block
{
    explicit Block(int channels) : samples(static_cast<std::size_t>(channels), std::vector<float>(blockFrames))
    {
        for (auto& channel : samples) pointers.push_back(channel.data());
    }

    std::vector<std::vector<float>> samples;
    std::vector<float*> pointers;
};

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
} // namespace

Measurement measure(const MeasureOptions& options, const std::filesystem::path& spot)
{
    LaidPair pair(spot, options.room, options.startTogether);

    Measurement measurement;
    measurement.spot = pair.spot();
    measurement.room = pair.room();
    measurement.settings = settingsFor(options, pair.spot(), pair.room());
    measurement.eachSide = options.eachSide && pair.spot().channels == 2;
    measurement.taped = options.taped;
    measurement.names = options.names;
    if (measurement.names.date.empty()) measurement.names.date = originationDate(pair.spot());
    measurement.notes = pair.notes();

    Measuring measuring;
    measuring.prepare(measurement.settings);
    ClipCheck clips(pair.spot());
    Progress progress("Measuring", pair.spot().frames - pair.start(), pair.spot().sampleRate);
    Block spotBlock(pair.spot().channels);
    Block roomBlock(pair.room().channels);
    std::int64_t frame = 0;
    for (int got = blockFrames; got == blockFrames; frame += got)
    {
        got = pair.read(spotBlock.pointers.data(), roomBlock.pointers.data(), blockFrames);
        clips.look(spotBlock.pointers.data(), got);
        measuring.process(spotBlock.pointers.data(), roomBlock.pointers.data(), got);
        measuring.gather();
        progress.at(frame);
    }
    measuring.finish();
    measuring.work();
    measurement.report = measuring.report();
    const double start = static_cast<double>(pair.start()) / pair.spot().sampleRate;
    for (HitReport& hit : measurement.report.hits) hit.time += start; // in the spot's own time
    if (clips.places() > 0) measurement.notes.push_back(clips.note());
    judge(measurement.report, pair.spot().seconds()); // how long the cue is, only the files know
    return measurement;
}
} // namespace tarry::command
