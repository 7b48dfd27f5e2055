#pragma once
#include "Core/Evidence/Evidence.h"

#include <array>
#include <string_view>
#include <vector>

namespace tarry
{
/// A lag that at least one kind of evidence proposes, with what speaks for and against it. All figures 0 to 1.
struct Candidate
{
    static constexpr std::size_t count = 7;
    double lag = 0.0; ///< s
    std::array<double, count> figures{};

    static constexpr std::array<std::string_view, count> names{
        "response",         ///< height of the response's peak here against its largest, as far as it comes to a point
        "owned",            ///< height of the steps weighted by ownership against their largest
        "response_earlier", ///< the response's largest value earlier than this, likewise
        "owned_earlier",    ///< and that of the owned steps
        "explained",        ///< share of the hits' loudness that has nearly its largest evidence here
        "stands",           ///< how high the owned steps stand over their noise
        "stands_alone"};    ///< the same, as far as the response does not come to a point
};

/// The lags that steps by ownership, steps by loudness, and the response propose: of each kind the three largest peaks
/// and the earliest ones of half and of seven tenths of the largest; proposals within 0.3 ms are one. owned, loud:
/// heights of the stacked steps; response: over all lags of the grid. In order of lag. Pure.
[[nodiscard]] std::vector<Candidate> nominate(const std::vector<const PairEvidence*>& hits,
                                              const std::vector<double>& owned, const std::vector<double>& loud,
                                              const std::vector<double>& response, const LagGrid& grid);
} // namespace tarry
