#include "Files/BlendClips.h"

#include "Core/Delay/Delay.h"
#include "Files/AudioWriter.h"
#include "Files/ClipFiles.h"
#include "Files/RateConverter.h"
#include "Files/SoundBlock.h"
#include "Loudness/Loudness.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sndfile.h>

namespace tarry
{
namespace
{
using Channels = std::vector<std::vector<float>>;

constexpr int highestRate = 48000;                 // Hz: what a browser plays everywhere without converting
constexpr double targetLoudness = -23.0;           // LUFS, EBU R 128
constexpr double highestPeak = 0.8912509381337456; // -1 dBFS, EBU R 128
constexpr double fadeIn = 0.005, fadeOut = 0.020;  // s, at the ends of each cut

/// Where to read from a file: frames, at the clips' rate; before 0 and after the end there is silence.
struct Stretch
{
    std::int64_t from = 0, to = 0;
};

/// Reads these stretches, in order of time and not overlapping; only they are kept.
std::vector<Channels> readStretches(const std::filesystem::path& file, int maxChannels, int rate,
                                    const std::vector<Stretch>& stretches)
{
    constexpr int blockFrames = 8192;
    AudioReader reader(file, maxChannels);
    RateConverter converter(reader, rate);
    const auto width = static_cast<std::size_t>(reader.info().channels);
    SoundBlock block(reader.info().channels, blockFrames);
    std::vector<Channels> found;
    std::int64_t last = 0;
    for (const Stretch& stretch : stretches)
    {
        found.emplace_back(width, std::vector<float>(static_cast<std::size_t>(stretch.to - stretch.from)));
        last = std::max(last, stretch.to);
    }
    for (std::int64_t position = 0; position < last;)
    {
        const int got = converter.read(block.pointers.data(), blockFrames);
        for (std::size_t i = 0; i < stretches.size(); ++i)
        {
            const auto from = std::max(stretches[i].from, position), to = std::min(stretches[i].to, position + got);
            for (std::size_t channel = 0; from < to && channel < width; ++channel)
                std::copy(block.samples[channel].begin() + (from - position),
                          block.samples[channel].begin() + (to - position),
                          found[i][channel].begin() + (from - stretches[i].from));
        }
        position += got;
        if (got < blockFrames) break;
    }
    return found;
}

/// Every stretch to its place, one after the other, faded at its ends; `skip` frames of each are left out ahead.
Channels joined(const std::vector<Channels>& stretches, const std::vector<std::int64_t>& lengths, std::int64_t skip,
                std::size_t width, int rate)
{
    Channels all(width);
    for (std::size_t i = 0; i < stretches.size(); ++i)
        for (std::size_t channel = 0; channel < width; ++channel)
        {
            const auto& source = stretches[i][std::min(channel, stretches[i].size() - 1)];
            for (std::int64_t k = 0; k < lengths[i]; ++k)
            {
                const double in = static_cast<double>(k) / rate / fadeIn,
                             out = static_cast<double>(lengths[i] - 1 - k) / rate / fadeOut;
                const double edge = std::min({1.0, in, out});
                const double gain = 0.5 - 0.5 * std::cos(std::numbers::pi * edge);
                all[channel].push_back(
                    static_cast<float>(gain * static_cast<double>(source[static_cast<std::size_t>(skip + k)])));
            }
        }
    return all;
}

void delay(std::vector<Channels>& stretches, const Alignment& alignment, int rate, int latency)
{
    for (auto& channels : stretches)
    {
        Delay line;
        line.prepare(rate, static_cast<int>(channels.size()), std::max(0.0, alignment.lag),
                     static_cast<double>(latency) / rate);
        line.setAlignment(alignment, false);
        line.jump();
        line.process(pointersTo(channels).data(), static_cast<int>(channels.front().size()));
    }
}

Channels sum(const Channels& spot, const Channels& room, double roomGain)
{
    Channels blend = spot;
    for (std::size_t channel = 0; channel < blend.size(); ++channel)
        for (std::size_t k = 0; k < blend[channel].size(); ++k)
            blend[channel][k] += static_cast<float>(roomGain * static_cast<double>(room[channel][k]));
    return blend;
}

void scale(Channels& channels, double gain)
{
    for (auto& channel : channels)
        for (float& sample : channel) sample = static_cast<float>(gain * static_cast<double>(sample));
}

double peakOf(const Channels& channels)
{
    double peak = 0.0;
    for (const auto& channel : channels)
        for (const float sample : channel) peak = std::max(peak, std::abs(static_cast<double>(sample)));
    return peak;
}

/// Both equally loud, and no louder than they may be.
bool matchLevels(BlendClips& clips)
{
    const auto recorded = integratedLoudness(clips.asRecorded, clips.rate),
               aligned = integratedLoudness(clips.aligned, clips.rate);
    if (!recorded || !aligned) return false;
    const LoudnessMatch match = matchLoudness(*aligned, *recorded);
    clips.difference = match.difference;
    const double target = std::pow(10.0, (targetLoudness - std::min(*recorded, *aligned)) / 20.0);
    const double peak = std::max(match.first * peakOf(clips.aligned), match.second * peakOf(clips.asRecorded));
    const double level = std::min(target, highestPeak / peak);
    scale(clips.aligned, level * match.first);
    scale(clips.asRecorded, level * match.second);
    return true;
}
} // namespace

BlendClips blendClips(const SessionRow& row, const std::filesystem::path& folder)
{
    BlendClips clips;
    if (!row.lag || row.clips.empty() || row.spotRate <= 0) return clips;
    const int rate = std::min(row.spotRate, highestRate);
    const auto frames = [rate](double seconds) { return static_cast<std::int64_t>(std::llround(seconds * rate)); };
    const Alignment alignment = row.applied();
    const auto latency = static_cast<std::int64_t>(std::ceil(std::max(0.0, -alignment.lag) * rate)) + Delay::halfLength;
    const auto margin =
        frames(std::abs(alignment.lag)) + Delay::length + latency; // what the delay needs on either side

    std::vector<Stretch> spotAt, roomAt;
    std::vector<std::int64_t> lengths;
    for (const ClipCut& cut : row.clips)
    {
        const auto from = frames(cut.start), to = frames(cut.end), room = frames(cut.start - row.roomStartsAfter);
        if (to <= from) continue;
        lengths.push_back(to - from);
        spotAt.push_back({from - margin, to + margin});
        roomAt.push_back({room, room + to - from});
    }
    if (lengths.empty()) return clips;
    auto spot = readStretches(folder / row.spotFile, maxSpotChannels, rate, spotAt);
    const auto room = readStretches(folder / row.roomFile, maxRoomChannels, rate, roomAt);
    const std::size_t width = std::clamp<std::size_t>(std::max(spot.front().size(), room.front().size()), 1, 2);

    const Channels asRecorded = joined(spot, lengths, margin, width, rate),
                   roomAlone = joined(room, lengths, 0, width, rate);
    delay(spot, alignment, rate, static_cast<int>(latency));
    const Channels aligned = joined(spot, lengths, margin + latency, width, rate);
    const auto spotLoudness = integratedLoudness(asRecorded, rate), roomLoudness = integratedLoudness(roomAlone, rate);
    if (!spotLoudness || !roomLoudness) return clips;

    clips.rate = rate;
    clips.roomGainDb = *spotLoudness - *roomLoudness;
    const double roomGain = std::pow(10.0, clips.roomGainDb / 20.0);
    clips.asRecorded = sum(asRecorded, roomAlone, roomGain);
    clips.aligned = sum(aligned, roomAlone, roomGain);
    return matchLevels(clips) ? clips : BlendClips{};
}

bool writeBlendClips(const SessionRow& row, const std::filesystem::path& folder, const std::filesystem::path& output)
{
    const BlendClips clips = blendClips(row, folder);
    if (clips.asRecorded.empty()) return false;
    const auto files = clipFilesOf(row);
    std::error_code problem;
    std::filesystem::create_directories((output / files.front()).parent_path(), problem);
    const std::array<const Channels*, 2> sides{&clips.asRecorded, &clips.aligned};
    for (std::size_t i = 0; i < sides.size(); ++i)
    {
        AudioInfo about;
        about.channels = static_cast<int>(sides[i]->size());
        about.sampleRate = clips.rate;
        about.frames = static_cast<std::int64_t>(sides[i]->front().size());
        about.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
        AudioWriter writer(output / files[i], about, about.frames);
        writer.write(pointersTo(*sides[i]).data(), static_cast<int>(about.frames));
        writer.finish();
    }
    return true;
}
} // namespace tarry
