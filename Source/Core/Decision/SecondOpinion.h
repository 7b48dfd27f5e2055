#pragma once
#include "Core/Decision/Candidates.h"

#include <vector>

namespace tarry
{
/// The probability of each candidate, in their order; what is missing to 1 is for none of them. A conditional logit
/// (McFadden 1974) over the candidates' figures. Its terms know nothing of the mode that ownership picks, so that it
/// can witness for or against that. Pure.
[[nodiscard]] std::vector<double> secondOpinion(const std::vector<Candidate>& candidates);
} // namespace tarry
