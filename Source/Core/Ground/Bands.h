#pragma once
#include <array>
#include <cstddef>
#include <span>

namespace tarry
{
/// The four bands in which energy is watched. Hz. Precision lives in the upper two (stick noise), low drums' weight in
/// the lowest. `after` and `before`: over how many seconds the energy just after and just before an instant is taken:
/// long enough for the band's own period, short enough for an attack.
struct Band
{
    double low, high;
    [[nodiscard]] constexpr double after() const { return low > 500.0 ? 0.001 : 0.5 / low; }
    [[nodiscard]] constexpr double before() const { return low > 500.0 ? 0.004 : 2.0 / low; }
};

inline constexpr std::array<Band, 4> bands{{{60, 250}, {250, 1000}, {1000, 4000}, {4000, 12000}}};
inline constexpr std::size_t bandCount = bands.size();

/// One second-order section, transposed direct form II (R. Bristow-Johnson's cookbook, Butterworth Q; from memory).
class Biquad
{
public:
    static Biquad highPass(double hz, double sampleRate);
    static Biquad lowPass(double hz, double sampleRate);

    double operator()(double x) noexcept
    {
        const double y = b0 * x + s1;
        s1 = (b1 * x + s2) - a1 * y; // the shortest way from one y to the next
        s2 = b2 * x - a2 * y;
        return y;
    }
    void clear() noexcept { s1 = s2 = 0.0; }

    /// b0, b1, b2, a1, a2, for who runs several at once.
    [[nodiscard]] std::array<double, 5> coefficients() const { return {b0, b1, b2, a1, a2}; }

private:
    double b0 = 1, b1 = 0, b2 = 0, a1 = 0, a2 = 0, s1 = 0, s2 = 0;
};

/// Causal band filter, second-order Butterworth at each edge: nothing rings ahead of an attack.
class BandFilter
{
public:
    BandFilter() = default;
    BandFilter(const Band& band, double sampleRate);
    double operator()(double x) noexcept { return low(high(x)); }
    [[nodiscard]] std::array<Biquad, 2> sections() const { return {high, low}; } ///< in the order in which they run
    void clear() noexcept
    {
        high.clear();
        low.clear();
    }

private:
    Biquad high, low;
};
} // namespace tarry
