#pragma once
#include <cstddef>
#include <cstring>

/// Four doubles that are worked on at once. Each lane computes what a single double would, in the same order, so that
/// the answer does not depend on how wide the processor is.

// A second copy of a function for processors with AVX, chosen when the program is loaded. AVX alone cannot fuse a
// multiplication with an addition, so both copies give the same bits. Not under a sanitizer: choosing runs before it is
// up.
#if defined(__GNUC__) && defined(__x86_64__) && defined(__gnu_linux__) && !defined(__SANITIZE_THREAD__) &&             \
    !defined(__SANITIZE_ADDRESS__)
#define TARRY_ALSO_FOR_AVX __attribute__((target_clones("avx", "default")))
#else
#define TARRY_ALSO_FOR_AVX
#endif

namespace tarry
{
#if defined(__GNUC__)
using Lanes = double __attribute__((vector_size(32)));
#else
struct Lanes
{
    double lane[4];
    double& operator[](std::size_t i) { return lane[i]; }
    double operator[](std::size_t i) const { return lane[i]; }
    friend Lanes operator+(const Lanes& a, const Lanes& b)
    {
        return each(a, b, [](double x, double y) { return x + y; });
    }
    friend Lanes operator-(const Lanes& a, const Lanes& b)
    {
        return each(a, b, [](double x, double y) { return x - y; });
    }
    friend Lanes operator*(const Lanes& a, const Lanes& b)
    {
        return each(a, b, [](double x, double y) { return x * y; });
    }
    friend Lanes operator*(double a, const Lanes& b) { return Lanes{{a, a, a, a}} * b; }
    Lanes& operator+=(const Lanes& b) { return *this = *this + b; }

private:
    template <typename Act>
    static Lanes each(const Lanes& a, const Lanes& b, Act act)
    {
        Lanes c{};
        for (std::size_t i = 0; i < 4; ++i) c.lane[i] = act(a.lane[i], b.lane[i]);
        return c;
    }
};
#endif

/// Reads four doubles from anywhere. By reference: how a register that wide is returned differs between processors.
inline void load(Lanes& to, const double* from) noexcept
{
    std::memcpy(&to, from, sizeof(Lanes));
}
} // namespace tarry
