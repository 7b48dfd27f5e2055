// Hearing: what the sum of spot and room does, by formulas recomputed here, against judgeBlend's figures.
#include "Core/Evidence/SumFigures.h"

#include "Support/Catch.h"
#include "Support/Signals.h"

#include <cmath>
#include <numbers>

using namespace tarry;
using tarry::test::Samples;
using tarry::test::sine;

namespace
{
constexpr double rate = 200000.0; // Hz: the times below are then whole samples
constexpr std::size_t frames = 100000;
constexpr int onset = 50000; // in the middle of long tones, where filters have settled

BlendFigures blendOf(const Samples& spot, const Samples& room, double lag, Polarity polarity = Polarity::normal)
{
    return judgeBlend({{spot, room, onset, 1.0}}, rate, lag, {lag, polarity});
}

/// A tone in the spot and the same tone in the room, `late` seconds later, at a gain.
BlendFigures tones(double hertz, double late, double gain, double lag)
{
    const Samples spot = sine(frames, hertz, rate, 0.5);
    const Samples room = sine(frames, hertz, rate, 0.5 * gain, -2.0 * std::numbers::pi * hertz * late);
    return blendOf(spot, room, lag);
}

double decibels(double amplitude)
{
    return 20.0 * std::log10(amplitude);
}
} // namespace

TEST_CASE("coherent equals sum to 6.02 dB, incoherent ones to 3.01 dB over one of them", "[blend][hearing]")
{
    // The low sum counts from the two added without phase, that is from 3.01 dB over one of two equals.
    CHECK(tones(100.0, 0.0, 1.0, 0.0).lowSumNormalDb + decibels(std::sqrt(2.0)) == Approx(6.0206).margin(0.001));

    // Long noise, so that chance correlation is small: 60 ms of 250 Hz hold 30 values, so many hits are judged at once.
    std::vector<Samples> spots, rooms;
    for (unsigned seed = 1; seed <= 40; ++seed)
    {
        spots.push_back(test::noise(frames, seed, 0.1));
        rooms.push_back(test::noise(frames, 100 + seed, 0.1));
    }
    std::vector<BlendHit> hits;
    for (std::size_t i = 0; i < spots.size(); ++i) hits.push_back({spots[i], rooms[i], onset, 1.0});
    const BlendFigures figures = judgeBlend(hits, rate, 0.0, {0.0, Polarity::normal});
    INFO("seeds 1 to 40 and 101 to 140: low sums " << figures.lowSumNormalDb << " and " << figures.lowSumInvertedDb);
    // The correlation of 40 * 30 values has a standard deviation of 1 / sqrt(1200), in dB 0.125: three of them.
    CHECK(figures.lowSumNormalDb == Approx(0.0).margin(0.375));
    CHECK(figures.lowSumInvertedDb == Approx(0.0).margin(0.375));
}

TEST_CASE("peak and notch of the sum at level differences of 0, 6, 10 and 20 dB", "[blend][hearing]")
{
    struct Row
    {
        double difference, peak, notch;
    };
    // Computed: 20 log10(1 +- 10^(-difference/20)).
    for (const Row& row :
         {Row{6.0, 3.53, -6.04}, Row{10.0, 2.39, -3.30}, Row{20.0, 0.83, -0.92}, Row{0.0, 6.02, -60.0}})
    {
        const double gain = test::gainOf(-row.difference);
        const BlendFigures figures = tones(100.0, 0.0, gain, 0.0);
        const double overSpot = 10.0 * std::log10(1.0 + gain * gain); // without phase, over the spot alone
        INFO(row.difference << " dB apart: peak " << figures.lowSumNormalDb + overSpot << " dB, notch "
                            << figures.lowSumInvertedDb + overSpot << " dB");
        CHECK(figures.lowSumNormalDb + overSpot == Approx(row.peak).margin(0.006));
        if (row.difference > 0.0)
            CHECK(figures.lowSumInvertedDb + overSpot == Approx(row.notch).margin(0.006));
        else
            CHECK(figures.lowSumInvertedDb < row.notch); // minus infinity, but for the floats
    }
}

TEST_CASE("the lag error that costs 1 dB in the sum of equals: 1.50, 0.150 and 0.030 ms", "[blend][hearing]")
{
    struct Row
    {
        double hertz, error;
    };
    // Computed: 20 log10 cos(pi f error) = -1 at f error = 0.1498. Spot and room are in step as recorded; an alignment
    // by the error then costs the first 10 ms of the sum as much.
    for (const Row& row : {Row{100.0, 0.00150}, Row{1000.0, 0.000150}, Row{5000.0, 0.000030}})
    {
        const double cost = tones(row.hertz, 0.0, 1.0, row.error).attackGainDb;
        const double formula = decibels(std::cos(std::numbers::pi * row.hertz * row.error));
        INFO(row.hertz << " Hz: costs " << cost << " dB");
        CHECK(cost == Approx(-1.0).margin(0.01));
        CHECK(cost == Approx(formula).margin(0.001));
    }
}

TEST_CASE("the first notch of spot and late copy lies at 1/(2 tau)", "[blend][hearing]")
{
    struct Row
    {
        double late, notch;
    };
    for (const Row& row : {Row{0.005, 100.0}, Row{0.034, 14.7}})
    {
        CHECK(1.0 / (2.0 * row.late) == Approx(row.notch).epsilon(0.001));
        const double notch = 1.0 / (2.0 * row.late);
        const double unaligned = tones(notch, row.late, 1.0, 0.0).lowSumNormalDb;
        const double aligned = tones(notch, row.late, 1.0, row.late).lowSumNormalDb;
        INFO(row.late * 1e3 << " ms late, " << notch << " Hz: " << unaligned << " dB as recorded, " << aligned
                            << " dB aligned");
        CHECK(unaligned < -60.0);
        CHECK(aligned == Approx(3.0103).margin(0.001));
    }
    // 0.5 ms: 1 kHz, above the low band; the whole attack's sum rises from nothing to twice.
    CHECK(1.0 / (2.0 * 0.0005) == Approx(1000.0));
    CHECK(tones(1000.0, 0.0005, 1.0, 0.0005).attackGainDb > 60.0);
}

TEST_CASE("a wrong polarity masquerades as a shift of 1/(2 f0): 6.25 ms at 80 Hz", "[blend][hearing]")
{
    const double shift = 1.0 / (2.0 * 80.0);
    CHECK(shift == Approx(0.00625));
    // Tones that stand for a low drum: no lag, and a lag off by half a period with the other polarity.
    const BlendFigures right = tones(80.0, 0.010, 0.5, 0.010);
    const BlendFigures masked = tones(80.0, 0.010, 0.5, 0.010 + shift);
    CHECK(masked.lowSumInvertedDb == Approx(right.lowSumNormalDb).margin(0.001));
    CHECK(masked.lowSumNormalDb == Approx(right.lowSumInvertedDb).margin(0.001));
    CHECK(right.lowSumNormalDb > right.lowSumInvertedDb);
}

TEST_CASE("aligned attacks of equals gain 6.02 dB where the room was later than the attack lasts", "[blend]")
{
    for (const Polarity polarity : {Polarity::normal, Polarity::inverted})
    {
        const Samples burst = test::noise(4000, 9, 0.2); // 20 ms
        Samples spot(frames, 0.0F), room(frames, 0.0F);
        const std::size_t late = 6000; // 30 ms
        for (std::size_t i = 0; i < burst.size(); ++i)
        {
            spot[onset + i] = burst[i];
            room[onset + i + late] = polarity == Polarity::normal ? burst[i] : -burst[i];
        }
        const BlendFigures figures = blendOf(spot, room, 0.030, polarity);
        CHECK(figures.attackGainDb == Approx(6.0206).margin(0.001));
        CHECK(figures.flamBefore == Approx(0.030));
        CHECK(figures.flamAfter == Approx(0.0).margin(1e-9));
        CHECK((figures.lowSumNormalDb > figures.lowSumInvertedDb) == (polarity == Polarity::normal));
    }
}

TEST_CASE("the low share: nearly all of an 80 Hz tone, nearly nothing of a 4 kHz tone", "[blend]")
{
    const Samples silence(frames, 0.0F);
    const auto shareOf = [&](const Samples& spot) { return lowShare({{spot, silence, onset, 1.0}}, rate); };
    CHECK(shareOf(sine(frames, 80.0, rate, 0.5)) > 0.9);
    CHECK(shareOf(sine(frames, 4000.0, rate, 0.5)) < 0.001);
    CHECK(shareOf(silence) == 0.0);
}

TEST_CASE("silence and windows at the ends of the track give plain figures", "[blend]")
{
    const Samples silence(2000, 0.0F), tone = sine(2000, 100.0, rate, 0.5);
    for (const int place : {0, 1, 1999})
        for (const double lag : {-0.05, 0.0, 0.05})
        {
            for (const auto& figures :
                 {judgeBlend({{tone, silence, place, 1.0}}, rate, lag, {lag, Polarity::normal}),
                  judgeBlend({{silence, silence, place, 1.0}}, rate, lag, {lag, Polarity::normal}),
                  judgeBlend({}, rate, lag, {lag, Polarity::normal})})
            {
                CHECK(std::isfinite(figures.attackGainDb));
                CHECK(std::isfinite(figures.lowSumNormalDb));
                CHECK(std::isfinite(figures.lowSumInvertedDb));
            }
        }
}
