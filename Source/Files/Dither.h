#pragma once

#include <cstdint>

namespace tarry
{
/// Triangular dither, the sum of two even ones (Lipshitz, Wannamaker, Vanderkooy, "Quantization and dither", JAES
/// 1992): the error of rounding then neither follows the signal nor changes in loudness with it. The same run of
/// numbers each time, so that printing twice gives the same file.
class Dither
{
public:
    /// The next value, -1 to 1, in steps of the target format.
    double next() noexcept { return even() - even(); }

private:
    /// 0 to below 1: xorshift64* (Vigna 2016).
    double even() noexcept
    {
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        return static_cast<double>((state * 0x2545F4914F6CDD1DULL) >> 11) * 0x1p-53;
    }

    std::uint64_t state = 0x9E3779B97F4A7C15ULL;
};
} // namespace tarry
