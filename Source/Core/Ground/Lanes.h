#pragma once
#include <cstddef>
#include <cstring>

/// Four doubles, or eight floats, that are worked on at once. Each lane computes what a single number would, in the
/// same order, so that the answer does not depend on how wide the processor is.

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
using SingleLanes = float __attribute__((vector_size(32)));
#else
template <typename Number, std::size_t count>
struct LaneArray
{
    Number lane[count];
    Number& operator[](std::size_t i) { return lane[i]; }
    Number operator[](std::size_t i) const { return lane[i]; }
    friend LaneArray operator+(const LaneArray& a, const LaneArray& b)
    {
        return each(a, b, [](Number x, Number y) { return x + y; });
    }
    friend LaneArray operator-(const LaneArray& a, const LaneArray& b)
    {
        return each(a, b, [](Number x, Number y) { return x - y; });
    }
    friend LaneArray operator*(const LaneArray& a, const LaneArray& b)
    {
        return each(a, b, [](Number x, Number y) { return x * y; });
    }
    friend LaneArray operator*(Number a, const LaneArray& b)
    {
        return each(b, b, [a](Number x, Number) { return a * x; });
    }
    LaneArray& operator+=(const LaneArray& b) { return *this = *this + b; }

private:
    template <typename Act>
    static LaneArray each(const LaneArray& a, const LaneArray& b, Act act)
    {
        LaneArray c{};
        for (std::size_t i = 0; i < count; ++i) c.lane[i] = act(a.lane[i], b.lane[i]);
        return c;
    }
};
using Lanes = LaneArray<double, 4>;
using SingleLanes = LaneArray<float, 8>;
#endif

/// Reads lanes from anywhere. By reference: how a register that wide is returned differs between processors.
template <typename AnyLanes, typename Number>
inline void load(AnyLanes& to, const Number* from) noexcept
{
    static_assert(sizeof(to[0]) == sizeof(Number));
    std::memcpy(&to, from, sizeof to);
}
} // namespace tarry
