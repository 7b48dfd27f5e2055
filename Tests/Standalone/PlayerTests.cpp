#include "Standalone/Player.h"
#include "Standalone/SavedFiles.h"
#include "Support/Catch.h"
#include "Support/RealtimeGuard.h"
#include "Support/Skip.h"

#include <cmath>

using namespace tarry;
using namespace tarry::standalone;
using namespace tarry::test;

namespace
{
/// A processor and a player without any device; blocks of every size.
struct Rig
{
    explicit Rig(double sampleRate = 48000.0)
    {
        processor.setNonRealtime(true); // the engine then measures within the call: the same every time
        player.prepare(sampleRate);
    }
    ~Rig() { processor.releaseResources(); }
    Rig(const Rig&) = delete;
    Rig& operator=(const Rig&) = delete;
    Rig(Rig&&) = delete;
    Rig& operator=(Rig&&) = delete;

    /// What comes out of two speakers.
    std::array<std::vector<float>, 2> hear(std::size_t frames)
    {
        std::array<std::vector<float>, 2> heard{std::vector<float>(frames), std::vector<float>(frames)};
        const int sizes[] = {512, 1, 480, 1024, 333};
        for (std::size_t at = 0, block = 0; at < frames; ++block)
        {
            const int n = std::min(sizes[block % 5], static_cast<int>(frames - at));
            float* outputs[2] = {heard[0].data() + at, heard[1].data() + at};
            const RealtimeGuard guard;
            player.process(nullptr, 0, outputs, 2, n);
            if (guard.count() > 0 && offence.empty()) offence = guard.first();
            at += static_cast<std::size_t>(n);
        }
        return heard;
    }

    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    Player player{processor};
    std::string offence; // the first thing that an audio thread must not do
};

ClipPointer clipOf(const Folder& folder, const std::string& name, const std::vector<std::vector<float>>& channels)
{
    return loadClip(save(folder / name, channels, 48000), 0.0, never);
}

std::size_t differing(const std::vector<float>& heard, std::size_t heardFrom, const std::vector<float>& played,
                      std::size_t count)
{
    std::size_t wrong = 0;
    for (std::size_t k = 0; k < count; ++k) wrong += heard[heardFrom + k] != played[k] ? 1U : 0U;
    return wrong;
}

constexpr std::size_t ramp = 960, gap = 24000; // 20 ms and 0.5 s at 48 kHz
} // namespace

TEST_CASE("files to speakers, as recorded: bit for bit, in every round of the loop, in every mix of mono and stereo")
{
    const Folder folder;
    const int spots = GENERATE(1, 2), rooms = GENERATE(1, 2);
    const auto made = makeRecording({.seed = 5, .hits = 2, .spotChannels = spots, .roomChannels = rooms});
    Rig rig;
    rig.processor.engine().freeze(rig.processor.parameters.controls());
    rig.player.setClips(clipOf(folder, "spot.wav", made.spot), clipOf(folder, "room.wav", made.room));
    rig.hear(ramp); // until the speakers are up
    rig.player.cursor().play(true);
    const auto heard = rig.hear(2 * (made.frames() + gap));
    for (std::size_t side = 0; side < 2; ++side)
        for (std::size_t round = 0; round < 2; ++round)
        {
            const auto& played = made.spot[spots > 1 ? side : 0];
            INFO(spots << " + " << rooms << " channels, side " << side << ", round " << round);
            CHECK(differing(heard[side], round * (made.frames() + gap), played, made.frames() - ramp) == 0);
        }
}

TEST_CASE("a lag held in whole samples moves what is heard by just that")
{
    const Folder folder;
    const auto made = makeRecording({.seed = 6, .hits = 2});
    Rig rig;
    rig.player.setClips(clipOf(folder, "spot.wav", made.spot), clipOf(folder, "room.wav", made.room));
    rig.processor.engine().setByHand(Sides::both({0.030, Polarity::normal})); // 1440 samples
    rig.hear(ramp);
    rig.player.cursor().play(true);
    const auto heard = rig.hear(made.frames());
    CHECK(differing(heard[0], 1440, made.spot[0], made.frames() - ramp - 1440) == 0);
}

TEST_CASE("a file played without a device is measured, settles and is frozen at its lag")
{
    const Folder folder;
    const auto made = makeRecording({.seed = 7, .lag = 0.0275, .polarity = Polarity::inverted});
    Rig rig;
    rig.player.setClips(clipOf(folder, "spot.wav", made.spot), clipOf(folder, "room.wav", made.room));
    // In real time: an offline render holds what was held at its start. The worker's part is done here, between blocks,
    // so that the outcome hangs on no clock.
    rig.processor.setNonRealtime(false);
    rig.player.cursor().play(true);
    for (std::size_t k = 0; k < made.frames(); k += 480)
    {
        rig.player.process(nullptr, 0, nullptr, 0, 480);
        rig.processor.engine().work(rig.processor.parameters.controls());
    }
    REQUIRE(rig.processor.engine().phase() == Phase::frozen);
    const auto held = rig.processor.engine().held();
    REQUIRE(held);
    INFO("lag " << held->side[0].lag * 1e3 << " ms, made at 27.5 ms, limit 0.5 ms");
    CHECK(std::abs(held->side[0].lag - 0.0275) < 0.0005);
    CHECK(held->side[0].polarity == Polarity::inverted);
}

TEST_CASE("the loop's seam and jumps into the middle are no hits")
{
    // A steady tone, cut anywhere: nothing in it is an attack but its own beginning.
    const Folder folder;
    std::vector<float> hum(20000);
    for (std::size_t k = 0; k < hum.size(); ++k) hum[k] = 0.3F * std::sin(0.02F * static_cast<float>(k) + 1.0F);
    for (std::size_t k = 0; k < 9600; ++k) hum[k] *= static_cast<float>(k) / 9600.0F;
    Rig rig;
    rig.player.setClips(clipOf(folder, "spot.wav", {hum}), clipOf(folder, "room.wav", {hum, hum}));
    rig.player.cursor().play(true);
    for (int act = 0; act < 60; ++act)
    {
        rig.hear(9000);
        if (act % 3 == 2) rig.player.cursor().seek(4321 + 200 * act);
    }
    const auto report = rig.processor.engine().report();
    INFO(report.hitsFound << " hits found where there are none");
    CHECK(report.hitsFound == 0);
}

TEST_CASE("a missing room, a missing spot, clips of another rate, and nothing at all: silence or the spot, no trouble")
{
    const Folder folder;
    const auto made = makeRecording({.seed = 8, .hits = 2});
    const auto spot = clipOf(folder, "spot.wav", made.spot);
    Rig rig;
    const auto loudest = [&]
    {
        rig.player.cursor().play(true);
        float peak = 0.0F;
        const auto heard = rig.hear(made.frames());
        for (const auto sample : heard[0]) peak = std::max(peak, std::abs(sample));
        return peak;
    };
    CHECK(loudest() == 0.0F);
    rig.player.setClips(spot, nullptr);
    CHECK(loudest() > 0.1F);
    rig.player.setClips(nullptr, spot);
    CHECK(loudest() == 0.0F); // the room is heard in the blend only
    rig.player.setClips(spot, spot);
    rig.player.prepare(44100.0);
    CHECK(loudest() == 0.0F); // until it has been read again at the new rate
}

TEST_CASE("live inputs reach spot and room as chosen, and inputs that are not there are silent")
{
    Rig rig;
    rig.processor.engine().freeze(rig.processor.parameters.controls());
    rig.player.setLive(true, {{2, -1}, {0, 1}});
    std::array<std::vector<float>, 3> device;
    for (std::size_t i = 0; i < 3; ++i) device[i].assign(2400, 0.1F * static_cast<float>(i + 1));
    const float* inputs[] = {device[0].data(), device[1].data(), device[2].data()};
    std::vector<float> left(2400), right(2400);
    float* outputs[] = {left.data(), right.data()};
    rig.player.process(inputs, 3, outputs, 2, 2400);
    CHECK(left.back() == 0.3F);
    CHECK(right.back() == 0.3F);
    rig.player.process(inputs, 2, outputs, 2, 2400);
    CHECK(left.back() == 0.0F);
    rig.player.setSpeakers(0.0F);
    rig.player.process(inputs, 3, outputs, 2, 2400);
    rig.player.process(inputs, 3, outputs, 2, 2400);
    CHECK(left.back() == 0.0F); // muted
}

TEST_CASE("the player never allocates, locks, waits or touches files on the audio thread")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    const Folder folder;
    const auto made = makeRecording({.seed = 9, .hits = 3, .roomChannels = 2});
    Rig rig;
    rig.processor.setNonRealtime(false); // the worker measures, not this thread
    rig.player.setClips(clipOf(folder, "spot.wav", made.spot), clipOf(folder, "room.wav", made.room));
    rig.player.cursor().play(true);
    rig.hear(40000);
    rig.player.cursor().seek(100);
    rig.player.setSpeakers(0.25F);
    rig.hear(40000);
    rig.player.cursor().play(false);
    rig.hear(40000);
    INFO("first offence: " << rig.offence);
    CHECK(rig.offence.empty());
}
