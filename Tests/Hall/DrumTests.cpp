#include "Hall/Drum.h"
#include "Hall/Spectra.h"
#include "Support/Catch.h"

#include <algorithm>
#include <cmath>

using namespace tarry::hall;

namespace
{
constexpr double rate = 48000.0;
constexpr Point near{0.3, 0.0, 0.4};
constexpr Point far{9.0, 1.0, 2.0};

std::vector<double> farSound(const Drum& drum, std::uint64_t hit)
{
    Random random(hit, 2);
    std::vector<double> sum(static_cast<std::size_t>(rate));
    for (const Radiator& one : strikeDrum(drum, {0.06, 0.0, 0.0}, 1.0, near, far, rate, random))
        addAt(sum, one.signal, 100.0 + one.delay * rate, one.farGain);
    return sum;
}
} // namespace

TEST_CASE("Drum: a low drum's energy lies where low drums have it", "[hall]")
{
    // Common practice, no source: soft mallets on a low drum put most energy at 40 to 120 Hz, and rise in 2 to 6 ms.
    for (std::uint64_t seed = 1; seed <= 8; ++seed)
    {
        Random random(seed, 1);
        const Drum drum = makeDrum(Sticks::soft, 0.5, random);
        const auto sound = farSound(drum, seed);
        const Spectrum spectrum = spectrumOf(sound, sound.size());
        double low = 0.0;
        double all = 0.0;
        for (std::size_t hertz = 0; hertz < spectrum.size(); ++hertz)
        {
            all += std::norm(spectrum[hertz]);
            if (hertz >= 40 && hertz <= 120) low += std::norm(spectrum[hertz]);
        }
        INFO("seed " << seed << ": " << low / all << " of the energy at 40 to 120 Hz, limit 0.5");
        CHECK(low > 0.5 * all);

        // The head's first lobe, from 10 to 90 % of its height.
        Random hit(seed, 2);
        const auto head = strikeDrum(drum, {0.06, 0.0, 0.0}, 1.0, near, far, rate, hit)[1].signal;
        std::size_t end = 1;
        while (head[end] < 0.0) ++end;
        const double depth = *std::min_element(head.begin(), head.begin() + static_cast<std::ptrdiff_t>(end));
        std::size_t i = 0;
        while (head[i] > 0.1 * depth) ++i;
        std::size_t j = i;
        while (head[j] > 0.9 * depth) ++j;
        const double rise = static_cast<double>(j - i) / rate * 1e3;
        INFO("seed " << seed << ": 10 to 90 % in " << rise << " ms, limits 2 and 6 ms");
        CHECK(rise > 2.0);
        CHECK(rise < 6.0);
    }
}

TEST_CASE("Drum: the blow pulls the air above the head first, near and far", "[hall]")
{
    for (std::uint64_t seed = 1; seed <= 8; ++seed)
    {
        Random random(seed, 1);
        const Drum drum = makeDrum(Sticks::hard, 0.5, random);
        for (const Radiator& one : strikeDrum(drum, {0.06, 0.0, 0.0}, 1.0, near, far, rate, random))
        {
            if (one.part != Part::head) continue;
            const auto half = one.signal.begin() + static_cast<std::ptrdiff_t>(0.4 * drum.contact * rate);
            double sum = 0.0;
            for (auto it = one.signal.begin(); it != half; ++it) sum += *it;
            INFO("seed " << seed << ": sum of the first samples " << sum);
            CHECK(sum < 0.0);
        }
    }
}

TEST_CASE("Drum: no hit is like the last, and each repeats with its seed", "[hall]")
{
    Random random(1, 1);
    const Drum drum = makeDrum(Sticks::hard, 0.5, random);
    const auto one = farSound(drum, 1);
    const auto other = farSound(drum, 2);
    CHECK(one == farSound(drum, 1));
    double dot = 0.0;
    double first = 0.0;
    double second = 0.0;
    for (std::size_t i = 0; i < one.size(); ++i)
    {
        dot += one[i] * other[i];
        first += one[i] * one[i];
        second += other[i] * other[i];
    }
    const double likeness = dot / std::sqrt(first * second);
    INFO("correlation of two hits " << likeness << ", below 0.999");
    CHECK(likeness < 0.999);
}

TEST_CASE("Drum: small parts start no sooner than the stick meets the head", "[hall]")
{
    Random random(3, 1);
    const Drum drum = makeDrum(Sticks::hard, 1.0, random);
    for (const Radiator& one : strikeDrum(drum, {0.06, 0.0, 0.0}, 1.0, near, far, rate, random))
    {
        CHECK(one.delay >= 0.0);
        CHECK(one.delay < 0.02);
        CHECK(length(one.offset) < 1.0);
    }
}

TEST_CASE("Drum: the more extended, the less near and far have in common", "[hall]")
{
    // Share of the common source, the contact noise, in what is not the head's low tone.
    const auto common = [](double extended)
    {
        Random random(4, 1);
        const Drum drum = makeDrum(Sticks::hard, extended, random);
        double stick = 0.0;
        double all = 0.0;
        for (const Radiator& one : strikeDrum(drum, {0.06, 0.0, 0.0}, 1.0, near, far, rate, random))
        {
            if (one.part == Part::head) continue;
            double energy = 0.0;
            for (const double value : one.signal) energy += value * value * one.farGain * one.nearGain;
            all += energy;
            if (one.part == Part::stick) stick += energy;
        }
        return stick / all;
    };
    CHECK(common(0.0) > common(0.5));
    CHECK(common(0.5) > common(1.0));
}
