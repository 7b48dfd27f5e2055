#pragma once
// Fitted by Tests/Bench/fit.py to 1670 scenes of the training set, at commit eb1ce6da0653.
// Families: alone, bodies, halls, instruments, late, neighbours, real, rooms, sections, stage, stereo, twolags, unseen.
// Do not edit: fit again.
#include <array>

namespace tarry::second_opinion_model
{
inline constexpr double bias = -3.43048643;
/// Weights of a candidate's figures in its logit, in the order of Candidate::names.
inline constexpr std::array<double, 7> weights{
    2.3948372,   // response
    1.86959627,  // owned
    -2.38579279, // response_earlier
    -1.30445655, // owned_earlier
    2.4838929,   // explained
    1.95341569,  // stands
    0.590626973, // stands_alone
};
} // namespace tarry::second_opinion_model
