#include "Files/Errors.h"
#include "Standalone/Clip.h"
#include "Standalone/SavedFiles.h"
#include "Support/Catch.h"

#include <cmath>
#include <numbers>

using namespace tarry;
using namespace tarry::standalone;
using namespace tarry::test;

TEST_CASE("a clip at the file's own rate is the file, bit for bit")
{
    const Folder folder;
    const auto made = makeRecording({.seed = 3, .hits = 2, .spotChannels = 2});
    const auto file = save(folder / "spot.wav", made.spot, 48000);
    const auto clip = loadClip(file, 0.0, never);
    REQUIRE(clip);
    CHECK(clip->sampleRate == 48000.0);
    CHECK(clip->channels == made.spot);
}

TEST_CASE("a clip at another rate keeps its time: a tone stays in phase with its formula")
{
    const Folder folder;
    constexpr double tone = 700.0; // Hz
    std::vector<float> samples(96000);
    for (std::size_t k = 0; k < samples.size(); ++k)
        samples[k] =
            static_cast<float>(0.5 * std::sin(2.0 * std::numbers::pi * tone * static_cast<double>(k) / 96000.0));
    const auto clip = loadClip(save(folder / "tone.wav", {samples}, 96000), 44100.0, never);
    REQUIRE(clip);
    CHECK(clip->info.sampleRate == 96000);
    CHECK(std::abs(clip->frames() - 44100) <= 1);
    double worst = 0.0;
    for (std::size_t k = 2000; k < 42000; ++k)
        worst =
            std::max(worst, std::abs(0.5 * std::sin(2.0 * std::numbers::pi * tone * static_cast<double>(k) / 44100.0) -
                                     static_cast<double>(clip->channels[0][k])));
    INFO("largest error " << worst << ", limit 0.0001");
    CHECK(worst < 1.0e-4);
}

TEST_CASE("what cannot be played is refused in one line that names the file")
{
    const Folder folder;
    const auto refusal = [](const std::filesystem::path& file)
    {
        try
        {
            const auto clip = loadClip(file, 0.0, never);
            return std::string("taken");
        }
        catch (const InputError& error)
        {
            return std::string(error.what());
        }
    };
    writeBytes(folder / "words.wav", "this is no sound");
    CHECK(contains(refusal(folder / "words.wav"), "words.wav"));
    CHECK(contains(refusal(folder / "absent.wav"), "absent.wav"));
    const std::vector<float> channel(1000, 0.1F);
    CHECK(contains(refusal(save(folder / "three.wav", {channel, channel, channel}, 48000)), "3 channels"));
    for (const auto* name : {"words.wav", "absent.wav", "three.wav"})
        CHECK(refusal(folder / name).find('\n') == std::string::npos);
}

TEST_CASE("loading gives up when it is told to")
{
    const Folder folder;
    const auto file = save(folder / "spot.wav", {std::vector<float>(1000, 0.1F)}, 48000);
    CHECK(loadClip(file, 0.0, std::atomic<bool>(true)) == nullptr);
}
