#pragma once
// Fitted by Tests/Bench/fit.py to 1598 scenes of the training set, at commit d559de6a4e3e.
// Families: alone, halls, instruments, late, neighbours, real, rooms, sections, stage, stereo, twolags, unseen. Do not
// edit: fit again.
#include <array>

namespace tarry::confidence_model
{
/// Adds weight * clamp(x, low, high) to the logit of P(lag within 0.5 ms). No weight is below 0.
struct Term
{
    double low, high, weight;
};

inline constexpr double bias = -8.46305656;
/// In the order of Features::names.
inline constexpr std::array<Term, 5> terms{{
    {-0.840919384, 4.97293885, 0.554435708}, // height
    {0.405465108, 3.19867312, 0.714173235},  // hits
    {0, 0.599727741, 2.18568245},            // near
    {-6, 3.31374093, 0.480965165},           // opinion
    {0.114752026, 1, 6.57150063},            // explained
}};
} // namespace tarry::confidence_model
