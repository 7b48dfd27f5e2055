#include "Files/BlendClips.h"

#include "Files/ClipFiles.h"
#include "Files/Fixtures.h"
#include "Loudness/Loudness.h"
#include "Support/Catch.h"
#include "Support/Process.h"

#include <algorithm>
#include <cmath>
#include <random>

using namespace tarry;
using namespace tarry::test;

namespace
{
constexpr double lag = 0.010, leastSeconds = 4.0;
constexpr int floatWav = SF_FORMAT_WAV | SF_FORMAT_FLOAT;

/// Four bursts of noise, one a second from 0.5 s on, `later` seconds late.
std::vector<double> bursts(int rate, double later, double gain)
{
    std::vector<double> samples(static_cast<std::size_t>(leastSeconds * rate));
    for (int hit = 0; hit < 4; ++hit)
    {
        std::mt19937 random(static_cast<unsigned>(hit + 1));
        std::normal_distribution<double> noise(0.0, 0.2);
        const auto start = static_cast<std::size_t>(std::lround((0.5 + hit + later) * rate));
        for (std::size_t k = 0; k < static_cast<std::size_t>(0.2 * rate); ++k)
            samples[start + k] = gain * noise(random) * std::exp(-static_cast<double>(k) / (0.05 * rate));
    }
    return samples;
}

/// The room hears the same, turned over and 20 dB softer.
SessionRow makeTake(const TemporaryFolder& folder, int rate = 48000, double roomStartsAfter = 0.0)
{
    makeFile(folder / "spot.wav", floatWav, 1, rate, bursts(rate, 0.0, 1.0));
    auto room = bursts(rate, lag, -0.1);
    room.erase(room.begin(), room.begin() + std::lround(roomStartsAfter * rate));
    makeFile(folder / "room.wav", floatWav, 1, rate, room);
    SessionRow row;
    row.line = 7;
    row.spotFile = "spot.wav";
    row.roomFile = "room.wav";
    row.spotRate = row.roomRate = rate;
    row.lag = lag;
    row.polarity = Polarity::inverted;
    row.roomStartsAfter = roomStartsAfter;
    for (int hit = 0; hit < 4; ++hit) row.clips.push_back({0.45 + hit, 1.0 + hit});
    return row;
}

double energy(const std::vector<float>& samples, std::size_t from, std::size_t to)
{
    double sum = 0.0;
    for (std::size_t i = from; i < to; ++i) sum += std::pow(static_cast<double>(samples[i]), 2.0);
    return sum;
}

std::vector<std::vector<float>> readBack(const std::filesystem::path& file)
{
    AudioReader reader(file, 2);
    const auto frames = static_cast<int>(reader.info().frames);
    std::vector<std::vector<float>> channels(static_cast<std::size_t>(reader.info().channels),
                                             std::vector<float>(static_cast<std::size_t>(frames)));
    std::vector<float*> pointers;
    for (auto& channel : channels) pointers.push_back(channel.data());
    REQUIRE(reader.read(pointers.data(), frames) == frames);
    return channels;
}
} // namespace

TEST_CASE("clips: as recorded both attacks are heard, aligned there is one, and nothing before it")
{
    const TemporaryFolder folder;
    const auto clips = blendClips(makeTake(folder), folder.path());
    REQUIRE(clips.asRecorded.size() == 1);
    REQUIRE(clips.asRecorded.front().size() == static_cast<std::size_t>(4 * 0.55 * 48000));
    CHECK(clips.aligned.front().size() == clips.asRecorded.front().size());
    CHECK(clips.roomGainDb == Approx(20.0).margin(0.05));
    // The spot's attack is 50 ms into the cut, the room's 10 ms later.
    const auto& recorded = clips.asRecorded.front();
    const auto& aligned = clips.aligned.front();
    const double before = energy(aligned, 2400, 2870), after = energy(aligned, 2880, 3350),
                 unaligned = energy(recorded, 2400, 2870);
    INFO("energy before the room's attack: " << before << " aligned, " << unaligned << " as recorded; after it "
                                             << after);
    CHECK(before < 1e-6 * after);
    CHECK(unaligned > 0.1 * after);
    // Equal and in step they add up to 6 dB, uncorrelated to 3: that is the difference which the match takes away.
    CHECK(clips.difference == Approx(3.0).margin(0.3));
}

TEST_CASE("clips: equally loud to 0.1 LU, no louder than -23 LUFS, no peak above -1 dBFS, as files")
{
    const TemporaryFolder folder;
    const auto row = makeTake(folder);
    REQUIRE(writeBlendClips(row, folder.path(), folder.path()));
    const auto files = clipFilesOf(row);
    const auto recorded = readBack(folder / files[0]), aligned = readBack(folder / files[1]);
    const auto one = integratedLoudness(recorded, 48000), other = integratedLoudness(aligned, 48000);
    REQUIRE(one);
    REQUIRE(other);
    INFO(*one << " and " << *other << " LUFS");
    CHECK(std::abs(*one - *other) <= 0.1);
    CHECK(std::max(*one, *other) <= -22.95);
    for (const auto* clip : {&recorded, &aligned})
        for (const float sample : clip->front()) REQUIRE(std::abs(sample) <= 0.8914F);
    const auto bytes = bytesOf(folder / files[1]);
    REQUIRE(writeBlendClips(row, folder.path(), folder.path()));
    CHECK(bytesOf(folder / files[1]) == bytes); // shards and a single run write the same
}

TEST_CASE("clips: a room's file that starts later is laid by it")
{
    const TemporaryFolder together, later;
    const auto first = blendClips(makeTake(together), together.path()),
               second = blendClips(makeTake(later, 48000, 0.25), later.path());
    CHECK(first.asRecorded == second.asRecorded);
    CHECK(first.aligned == second.aligned);
}

TEST_CASE("clips: high rates are brought to 48 kHz, and a stereo room makes a stereo clip")
{
    const TemporaryFolder folder;
    auto row = makeTake(folder, 96000);
    CHECK(blendClips(row, folder.path()).rate == 48000);
    const auto room = bursts(96000, lag, -0.1);
    std::vector<double> both;
    for (const double sample : room) both.insert(both.end(), {sample, 0.5 * sample});
    makeFile(folder / "room.wav", floatWav, 2, 96000, both);
    const auto clips = blendClips(row, folder.path());
    REQUIRE(clips.aligned.size() == 2);
    CHECK(clips.aligned[0] != clips.aligned[1]);
}

TEST_CASE("clips: a spot that is moved earlier is cut as well; what has nothing to cut gives none")
{
    const TemporaryFolder folder;
    auto row = makeTake(folder);
    row.lag = -0.02;
    const auto clips = blendClips(row, folder.path());
    REQUIRE(!clips.aligned.empty());
    CHECK(energy(clips.aligned.front(), 1440, 1900) > 0.01); // 50 ms less 20 ms: the spot's attack
    CHECK(energy(clips.asRecorded.front(), 1000, 2390) < 1e-9);
    row.clips.clear();
    CHECK_FALSE(writeBlendClips(row, folder.path(), folder.path()));
    row = makeTake(folder);
    row.lag.reset();
    CHECK(blendClips(row, folder.path()).asRecorded.empty());
    row = makeTake(folder);
    row.clips = {{100.0, 101.0}}; // past the end: silence has no loudness
    CHECK(blendClips(row, folder.path()).asRecorded.empty());
}
