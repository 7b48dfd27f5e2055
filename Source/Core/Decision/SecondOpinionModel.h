#pragma once
// Fitted by Tests/Bench/fit.py to 1598 scenes of the training set, at commit d559de6a4e3e.
// Families: alone, halls, instruments, late, neighbours, real, rooms, sections, stage, stereo, twolags, unseen. Do not
// edit: fit again.
#include <array>

namespace tarry::second_opinion_model
{
inline constexpr double bias = -5.33741288;
/// Weights of a candidate's figures in its logit, in the order of Candidate::names.
inline constexpr std::array<double, 9> weights{
    1.68839018,    // response
    1.31570701,    // owned
    0.706783855,   // loud
    -3.623193,     // response_earlier
    -0.0732459789, // owned_earlier
    1.06971419,    // kinds
    0.842935844,   // support
    0.79610808,    // supporters_own
    2.54301857,    // explained
};
} // namespace tarry::second_opinion_model
