#pragma once
#include "Core/Decision/Agreement.h"

#include <array>
#include <string_view>

namespace tarry
{
/// What the probability of a right lag is judged by. Plain figures of an Agreed; see `features` for each one's meaning.
struct Features
{
    static constexpr std::size_t count = 10;
    static constexpr std::array<std::string_view, count> names{
        "height", "runner_up", "weight", "agreement", "lead", "apart", "crowd", "clarity", "spread", "loudness"};
    std::array<double, count> values{};
};

[[nodiscard]] Features features(const Agreed& agreed, const Agreement& agreement);

/// Probability, 0 to 1, that the lag is right to within 0.5 ms: a logistic model fitted on made-up scenes whose seeds
/// are used for nothing else (ConfidenceModel.h says which).
[[nodiscard]] double confidence(const Features& features);
} // namespace tarry
