#include "Core/Decision/Confidence.h"

#include "Core/Decision/ConfidenceModel.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double finest = 5e-5; // s: less is no better; one clap, which has none, counts as good

double tightness(const Agreement& agreement, bool clap)
{
    if (agreement.agreeing < 2 && !clap) return 0.0;
    return std::log(1e-3 / (agreement.jitter + finest));
}
} // namespace

Features features(const Arrival& arrival, const Agreement& agreement, double opinion, bool clap)
{
    const double odds = (opinion + 1e-4) / (1.0 - opinion + 1e-4);
    return {{std::log(arrival.height + 0.1), tightness(agreement, clap), std::clamp(std::log(odds), -6.0, 6.0),
             agreement.explained}};
}

double confidence(const Features& f)
{
    double logit = confidence_model::bias;
    for (std::size_t i = 0; i < Features::count; ++i)
    {
        const auto& term = confidence_model::terms[i];
        logit += term.weight * std::clamp(f.values[i], term.low, term.high);
    }
    return 1.0 / (1.0 + std::exp(-logit));
}
} // namespace tarry
