#pragma once
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace tarry::hall
{
/// Random figures that are equal with every standard library: the engine is laid down by the C++ standard, the
/// distributions (which are not) are written out here.
class Random
{
public:
    /// One stream of many that belong to `seed`: to draw more from one stream leaves the others as they were.
    Random(std::uint64_t seed, std::uint64_t stream) : engine(scramble(seed * 0x9E3779B97F4A7C15ULL + stream)) {}

    /// 0 up to, but not including, 1.
    double uniform() { return static_cast<double>(engine() >> 11U) * 0x1p-53; }
    double between(double low, double high) { return low + (high - low) * uniform(); }
    /// Evenly spread in the logarithm; both limits above 0.
    double logBetween(double low, double high) { return low * std::pow(high / low, uniform()); }
    int wholeBetween(int low, int high) { return low + static_cast<int>(uniform() * (high - low + 1)); }
    bool coin() { return (engine() >> 63U) != 0; }

    /// Mean 0, standard deviation 1 (Box and Muller 1958).
    double gauss()
    {
        if (haveSpare)
        {
            haveSpare = false;
            return spare;
        }
        const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
        const double angle = 2.0 * std::numbers::pi * uniform();
        spare = radius * std::sin(angle);
        haveSpare = true;
        return radius * std::cos(angle);
    }

private:
    // The finaliser of SplitMix64 (Steele, Lea, Flood 2014): neighbouring seeds give unlike streams.
    static std::uint64_t scramble(std::uint64_t x)
    {
        x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9ULL;
        x = (x ^ (x >> 27U)) * 0x94D049BB133111EBULL;
        return x ^ (x >> 31U);
    }

    std::mt19937_64 engine;
    double spare = 0.0;
    bool haveSpare = false;
};
} // namespace tarry::hall
