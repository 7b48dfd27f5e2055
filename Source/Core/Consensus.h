#pragma once
#include "Core/Evidence.h"
#include "Core/Types.h"

#include <optional>
#include <vector>

namespace tarry
{
/// What all hits together say about one spot side and one room channel.
struct Agreed
{
    std::optional<double> lag;  ///< s
    double mode = 0.0;          ///< s, the lag by energy steps alone
    double height = 0.0;        ///< of the winning mode over its noise
    bool refined = false;       ///< the response stands clear of its own noise there and took over
    double responseClear = 0.0; ///< the response's peak over the rms of what comes before any arrival
    Polarity polarity = Polarity::normal;
    double clarityDb = 0.0;
    double runnerUpLag = 0.0, runnerUpShare = 0.0;
    std::vector<float> evidence; ///< stack over lag, from lag grid index noise on, every stride
    std::vector<double> weight;  ///< of each hit, 0 to 1
    std::vector<double> ownLag;  ///< of each hit, s; NaN where it shows none
};

/// Fuses the evidence of all hits. Pure: same evidence, same answer.
[[nodiscard]] Agreed agree(const std::vector<const PairEvidence*>& hits, const LagGrid& grid);
} // namespace tarry
