#pragma once
#include "Core/Decision/Agreement.h"

#include <array>
#include <string_view>

namespace tarry
{
/// What the probability of a right lag is judged by: each figure says how much speaks for it, the larger the surer.
struct Features
{
    static constexpr std::size_t count = 4;
    static constexpr std::array<std::string_view, count> names{
        "height",     ///< log of the mode over its noise
        "tight",      ///< log of 1 ms over the jitter of the agreeing hits' own lags, 0 where fewer than two agree
        "opinion",    ///< logit of the second opinion's probability for this lag, -6 to 6
        "explained"}; ///< 0 to 1: share of what the spot hears that the arrival explains
    std::array<double, count> values{};
};

/// opinion: the second opinion's probability for the arrival's lag. clap: one hit is enough.
[[nodiscard]] Features features(const Arrival& arrival, const Agreement& agreement, double opinion, bool clap);

/// Probability, 0 to 1, that the lag is right to within 0.5 ms: a logistic model, monotone in every feature, fitted on
/// scenes whose seeds are used for nothing else (ConfidenceModel.h says which).
[[nodiscard]] double confidence(const Features& features);
} // namespace tarry
