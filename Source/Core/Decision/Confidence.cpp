#include "Core/Decision/Confidence.h"

#include "Core/Decision/ConfidenceModel.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
Features features(const Agreed& agreed, const Agreement& agreement)
{
    return {{std::log(agreed.height + 0.1),       // the mode over its noise
             std::min(agreed.runnerUpShare, 1.5), // the next mode against it
             std::log(agreed.weight + 0.05),      // how many hits speak
             agreement.byWeight,                  // how many of them say the same
             std::min(agreed.responseLead, 4.0),  // the response's peak against its next
             std::min(std::abs(agreed.responseLag - agreed.stepLag), 0.0006) * 1e3, // do both kinds agree? ms
             agreed.crowd ? 1.0 : 0.0,                                              // neighbours are heard
             std::log(agreed.responseClear + 1.0),                                  // the response over its noise
             std::min(agreement.spread, 0.002) * 1e3, agreement.byLoudness}};       // ms
}

double confidence(const Features& f)
{
    double logit = confidence_model::bias;
    for (const auto& term : confidence_model::terms)
    {
        const auto name = std::find(Features::names.begin(), Features::names.end(), term.feature);
        const double value = f.values.at(static_cast<std::size_t>(name - Features::names.begin()));
        logit += term.weight * (std::clamp(value, term.low, term.high) - term.mean) / term.deviation;
    }
    return 1.0 / (1.0 + std::exp(-logit));
}
} // namespace tarry
