#include "Core/Decision/Confidence.h"

#include "Core/Decision/ConfidenceModel.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
Features features(const Arrival& arrival, const Agreement& agreement, double opinion)
{
    const double odds = (opinion + 1e-4) / (1.0 - opinion + 1e-4);
    return {{std::log(arrival.height + 0.1), std::log(agreement.agreeing + 0.5),
             0.6 - std::min(std::abs(arrival.responseLag - arrival.stepLag), 0.0006) * 1e3,
             std::clamp(std::log(odds), -6.0, 6.0), agreement.explained}};
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
