#pragma once
// Fitted by Tests/Bench/fit.py to 1598 scenes of the training set, at commit d1c48a94ea85.
// Families: alone, halls, instruments, late, neighbours, real, rooms, sections, stage, stereo, twolags, unseen. Do not
// edit: fit again.
#include <array>

namespace tarry::second_opinion_model
{
inline constexpr double bias = -5.34866394;
/// Weights of a candidate's figures in its logit, in the order of Candidate::names.
inline constexpr std::array<double, 9> weights{
    1.67411416,  // response
    1.28033127,  // owned
    0.711583549, // loud
    -3.59858082, // response_earlier
    0,           // owned_earlier
    1.0505558,   // kinds
    0.792660553, // support
    0.819340707, // supporters_own
    2.49084037,  // explained
};
} // namespace tarry::second_opinion_model
