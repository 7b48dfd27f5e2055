#include "Core/Decision/SecondOpinion.h"

#include "Core/Decision/SecondOpinionModel.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
std::vector<double> secondOpinion(const std::vector<Candidate>& candidates)
{
    std::vector<double> result;
    double sum = 1.0; // of none
    for (const Candidate& candidate : candidates)
    {
        double logit = second_opinion_model::bias;
        for (std::size_t i = 0; i < second_opinion_model::weights.size(); ++i) // a figure not fitted yet: no weight
            logit += second_opinion_model::weights[i] * candidate.figures[i];
        result.push_back(std::exp(std::clamp(logit, -30.0, 30.0)));
        sum += result.back();
    }
    for (double& p : result) p /= sum;
    return result;
}
} // namespace tarry
