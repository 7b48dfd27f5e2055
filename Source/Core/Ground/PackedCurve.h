#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace tarry
{
/// A curve kept with 16 bits a value, against its largest: half the memory of floats, for what is kept of every hit.
/// Rounding adds noise 101 dB below the largest value.
class PackedCurve
{
public:
    PackedCurve() = default;
    /// Values have to be finite.
    explicit PackedCurve(std::span<const float> curve);

    [[nodiscard]] std::size_t size() const { return values.size(); }
    [[nodiscard]] double operator[](std::size_t i) const { return step * values[i]; }

    /// Adds `weight` times the values from index `from` on to `sum`, which says how many.
    void addTo(std::span<double> sum, double weight, std::size_t from = 0) const;
    /// The same to a float's precision, in less than half the time.
    void addTo(std::span<float> sum, double weight, std::size_t from = 0) const;

private:
    double step = 0.0; ///< what one of the whole numbers stands for
    std::vector<std::int16_t> values;
};
} // namespace tarry
