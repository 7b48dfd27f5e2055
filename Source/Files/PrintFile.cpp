#include "Files/PrintFile.h"

#include "Core/Delay/Delay.h"
#include "Core/Ground/Text.h"
#include "Core/Ground/Version.h"
#include "Files/AudioWriter.h"
#include "Files/SoundBlock.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tarry
{
namespace
{
constexpr int blockFrames = 4096;

/// Between samples: each side through a Delay of its own, as in the plugin.
class FractionalLines
{
public:
    FractionalLines(const PrintJob& job, int sampleRate)
    {
        const double rate = sampleRate;
        double earliest = 0.0;
        double latest = 0.0;
        for (const auto& side : job.sides)
        {
            earliest = std::min(earliest, side.lag);
            latest = std::max(latest, side.lag);
        }
        // Held back by as much as the spot moves earlier; the head is then dropped. A later spot is not held back: its
        // lag meets the filter as it does in the plugin.
        const int needed = earliest < 0.0 ? static_cast<int>(std::ceil(-earliest * rate)) + Delay::halfLength : 0;
        latency = std::max(needed, static_cast<int>(std::lround(job.lookAhead * rate)));
        for (const auto& side : job.sides)
        {
            auto& delay = delays.emplace_back();
            delay.prepare(rate, 1, latest, latency / rate);
            heard.push_back(delay.setAlignment(side, job.wholeSamples));
            delay.jump();
            samples.emplace_back(blockFrames);
        }
        pointers = pointersTo(samples);
    }

    [[nodiscard]] bool areWhole() const
    {
        return std::all_of(heard.begin(), heard.end(), [](double delay) { return delay == std::round(delay); });
    }

    int read(AudioReader& reader) { return reader.read(pointers.data(), blockFrames); }

    void silenceFrom(int frame)
    {
        for (auto& channel : samples) std::fill(channel.begin() + frame, channel.end(), 0.0F);
    }

    void process()
    {
        for (std::size_t i = 0; i < delays.size(); ++i) delays[i].process(&pointers[i], blockFrames);
    }

    void write(AudioWriter& writer, int from, int frames)
    {
        std::vector<const float*> starts;
        for (const float* channel : pointers) starts.push_back(channel + from);
        writer.write(starts.data(), frames);
    }

    int latency = 0;           ///< samples
    std::vector<double> heard; ///< samples, one a side

private:
    std::vector<Delay> delays;
    std::vector<std::vector<float>> samples;
    std::vector<float*> pointers;
};

/// Whole numbers reach one step further down than up: what lies at the very bottom ends one step short of the top, and
/// is counted.
int turned(int sample, std::int64_t& oneShort)
{
    if (sample != std::numeric_limits<int>::min()) return -sample;
    ++oneShort;
    return std::numeric_limits<int>::max();
}
double turned(double sample, std::int64_t&)
{
    return -sample;
}

/// At whole samples: the stored samples themselves, interleaved, read a while ago.
template <typename Sample>
class WholeLines
{
public:
    WholeLines(const std::vector<double>& heard, const std::vector<Alignment>& sides) : width(heard.size())
    {
        for (const double delay : heard) latency = std::max(latency, static_cast<int>(-delay));
        std::size_t longest = 0;
        for (std::size_t i = 0; i < width; ++i)
        {
            delays.push_back(static_cast<std::size_t>(static_cast<int>(heard[i]) + latency));
            inverted.push_back(sides[i].polarity == Polarity::inverted);
            longest = std::max(longest, delays.back());
        }
        ringFrames = longest + 1;
        ring.resize(ringFrames * width);
        block.resize(blockFrames * width);
    }

    int read(AudioReader& reader) { return reader.read(block.data(), blockFrames); }

    void silenceFrom(int frame)
    {
        std::fill(block.begin() + static_cast<std::ptrdiff_t>(width) * frame, block.end(), Sample{});
    }

    void process()
    {
        for (std::size_t frame = 0; frame < blockFrames; ++frame, newest = (newest + 1) % ringFrames)
            for (std::size_t i = 0; i < width; ++i)
            {
                Sample& sample = block[frame * width + i];
                ring[newest * width + i] = sample;
                sample = ring[(newest + ringFrames - delays[i]) % ringFrames * width + i];
                if (inverted[i]) sample = turned(sample, oneShort);
            }
    }

    void write(AudioWriter& writer, int from, int frames)
    {
        writer.write(block.data() + static_cast<std::size_t>(from) * width, frames);
    }

    int latency = 0;           ///< samples
    std::int64_t oneShort = 0; ///< samples, see `turned`

private:
    std::size_t width;
    std::vector<std::size_t> delays;
    std::vector<bool> inverted;
    std::vector<Sample> ring, block;
    std::size_t ringFrames = 0, newest = 0;
};

/// Runs the spot and then silence through the lines, drops what the latency holds back, writes `frames`.
template <typename Lines>
void pour(AudioReader& spot, Lines& lines, AudioWriter& writer, std::int64_t frames, const PrintJob& job)
{
    const double rate = spot.info().sampleRate;
    std::int64_t toDrop = lines.latency;
    bool goesOn = true;
    for (std::int64_t done = 0; done < frames;)
    {
        const int got = goesOn ? lines.read(spot) : 0;
        goesOn = got == blockFrames;
        lines.silenceFrom(got);
        lines.process();
        const int from = static_cast<int>(std::min<std::int64_t>(toDrop, blockFrames));
        const int count = static_cast<int>(std::min<std::int64_t>(blockFrames - from, frames - done));
        toDrop -= from;
        if (count > 0) lines.write(writer, from, count);
        done += count;
        if (job.howFar) job.howFar(static_cast<double>(done) / rate, static_cast<double>(frames) / rate);
    }
}

std::int64_t framesFor(const AudioInfo& spot, const std::vector<double>& heard)
{
    std::int64_t longest = std::numeric_limits<std::int64_t>::min();
    for (const double delay : heard)
    {
        const int ringing = delay == std::round(delay) ? 0 : Delay::halfLength;
        longest = std::max(longest, spot.frames + static_cast<std::int64_t>(std::ceil(delay)) + ringing);
    }
    if (longest <= 0)
        throw InputError(spot.file, "is shorter than the time it has to move earlier: there would be nothing left");
    return longest;
}

/// The stored samples themselves, at whole delays.
template <typename Sample>
void pourWhole(AudioReader& spot, AudioWriter& writer, const PrintJob& job, PrintResult& result)
{
    WholeLines<Sample> lines(result.heard, job.sides);
    pour(spot, lines, writer, result.frames, job);
    result.oneShort = lines.oneShort;
}

void pourWhole(AudioReader& spot, AudioWriter& writer, const PrintJob& job, PrintResult& result)
{
    if (spot.info().isInteger())
        pourWhole<int>(spot, writer, job, result);
    else
        pourWhole<double>(spot, writer, job, result);
}

AudioInfo describedBy(const AudioInfo& spot, const PrintJob& job)
{
    AudioInfo like = spot;
    if (!job.history.empty()) addToCodingHistory(like, job.history);
    return like;
}
} // namespace

PrintResult printFile(AudioReader& spot, const std::filesystem::path& output, const PrintJob& job)
{
    const AudioInfo& about = spot.info();
    FractionalLines lines(job, about.sampleRate);
    PrintResult result;
    result.heard = lines.heard;
    result.frames = framesFor(about, lines.heard);
    if (job.sameLength) result.frames = about.frames;

    AudioWriter writer(output, describedBy(about, job), result.frames, job.existing);
    spot.rewind();
    if (lines.areWhole())
        pourWhole(spot, writer, job, result);
    else
        pour(spot, lines, writer, result.frames, job);
    writer.finish();
    result.clipped = writer.clipped();
    result.lost = writer.lost();
    return result;
}

PrintResult copyWithTimeStamp(AudioReader& spot, const std::filesystem::path& output, std::int64_t samples,
                              const PrintJob& job)
{
    AudioInfo stamped = describedBy(spot.info(), job);
    const std::uint64_t before = timeReference(stamped);
    if (samples < 0 && before < static_cast<std::uint64_t>(-samples))
        throw InputError(stamped.file, "would start before midnight, which a time stamp cannot say: print without "
                                       "--time-stamp");
    if (samples > 0 && before > std::numeric_limits<std::uint64_t>::max() - static_cast<std::uint64_t>(samples))
        throw InputError(stamped.file, "carries a time stamp that no clock can show and that cannot be moved later: "
                                       "mend it first, or print without --time-stamp");
    setTimeReference(stamped, before + static_cast<std::uint64_t>(samples));

    AudioWriter writer(output, stamped, stamped.frames, job.existing);
    const auto& lost = writer.lost();
    if (!writer.keepsTimeStamp() || std::find(lost.begin(), lost.end(), "bext") != lost.end())
        throw InputError(output, "cannot carry the time stamp (only WAV files do, with a coding history of up to 45 "
                                 "kB): end its name in .wav, or print without --time-stamp");
    spot.rewind();
    PrintJob turned = job;
    turned.sides.resize(static_cast<std::size_t>(stamped.channels));
    PrintResult result;
    result.heard.assign(turned.sides.size(), 0.0);
    result.frames = stamped.frames;
    result.lost = lost;
    pourWhole(spot, writer, turned, result);
    writer.finish();
    return result;
}

std::string historyOf(const std::vector<Alignment>& held, double lean, bool wholeSamples, bool timeStamp)
{
    std::string text = "Tarry " + version();
    for (std::size_t i = 0; i < held.size() && (i == 0 || !(held[i] == held[0])); ++i)
        text += std::string(i == 0 ? " lag " : " right side lag ") + fixed(held[i].lag * 1e3, 6) + " ms polarity " +
                nameOf(held[i].polarity);
    text += " lean " + fixed(lean * 1e3, 3) + " ms";
    if (timeStamp) return text + " by time stamp";
    return wholeSamples ? text + " whole samples" : text;
}
} // namespace tarry
