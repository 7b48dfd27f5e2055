#include "Core/Evidence/AnalysisWindow.h"

#include "Support/Catch.h"

#include <cmath>
#include <numbers>

using namespace tarry;

namespace
{
Hit sines(double rate, double spotHz, double roomHz)
{
    Hit hit;
    hit.resize(1, 2, static_cast<int>(0.1 * rate));
    hit.sampleRate = rate;
    hit.before = static_cast<int>(0.03 * rate) + 1; // no multiple of the factor
    for (int i = 0; i < hit.size(); ++i)
    {
        const double at = 2.0 * std::numbers::pi * (i - hit.before) / rate;
        hit.spot(0)[static_cast<std::size_t>(i)] = static_cast<float>(std::sin(at * spotHz));
        hit.room(0)[static_cast<std::size_t>(i)] = static_cast<float>(std::sin(at * roomHz));
        hit.room(1)[static_cast<std::size_t>(i)] = 0.25F;
    }
    return hit;
}
} // namespace

TEST_CASE("windows are analysed between 44.1 and 64 kHz", "[window]")
{
    for (const double rate : {44100.0, 48000.0}) CHECK(thinningFor(rate) == 1);
    for (const double rate : {88200.0, 96000.0}) CHECK(thinningFor(rate) == 2);
    for (const double rate : {176400.0, 192000.0}) CHECK(thinningFor(rate) == 4);
}

TEST_CASE("thinning keeps the onset on a sample, the band below 15 kHz and DC, and stops what would fold", "[window]")
{
    for (const double rate : {88200.0, 96000.0, 176400.0, 192000.0})
    {
        INFO(rate << " Hz");
        const AnalysisWindow window(sines(rate, 15000.0, 0.7 * rate / thinningFor(rate)));
        CHECK(window.rate == rate / thinningFor(rate));
        REQUIRE(window.room.size() == 2);
        double worst = 0.0, folded = 0.0;
        for (int i = 200; i < window.size() - 200; ++i)
        {
            const double at = 2.0 * std::numbers::pi * 15000.0 * (i - window.onset) / window.rate;
            worst = std::max(worst, std::abs(window.spot[0][static_cast<std::size_t>(i)] - std::sin(at)));
            folded = std::max(folded, std::abs(window.room[0][static_cast<std::size_t>(i)]));
            CHECK(std::abs(window.room[1][static_cast<std::size_t>(i)] - 0.25) < 1e-6);
        }
        CHECK(worst < 0.003);
        CHECK(folded < 0.01);
    }
}

TEST_CASE("a window at 48 kHz is the hit itself", "[window]")
{
    const Hit hit = sines(48000.0, 440.0, 700.0);
    const AnalysisWindow window(hit);
    CHECK(window.onset == hit.before);
    REQUIRE(window.size() == hit.size());
    for (int i = 0; i < hit.size(); ++i)
        CHECK(window.spot[0][static_cast<std::size_t>(i)] ==
              static_cast<double>(hit.spot(0)[static_cast<std::size_t>(i)]));
}
