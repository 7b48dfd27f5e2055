#pragma once
// Fitted by Tests/Bench/fit.py to 1670 scenes of the training set, at commit eb1ce6da0653.
// Families: alone, bodies, halls, instruments, late, neighbours, real, rooms, sections, stage, stereo, twolags, unseen.
// Do not edit: fit again.
#include <array>

namespace tarry::confidence_model
{
/// Adds weight * clamp(x, low, high) to the logit of P(lag within 0.5 ms). No weight is below 0.
struct Term
{
    double low, high, weight;
};

inline constexpr double bias = -6.29162996;
/// In the order of Features::names.
inline constexpr std::array<Term, 4> terms{{
    {-0.905007271, 4.97168546, 0.437881723}, // height
    {0, 2.99573227, 0.654221009},            // tight
    {-6, 3.72572386, 0.602991825},           // opinion
    {0.128593061, 1, 4.97864328},            // explained
}};
} // namespace tarry::confidence_model
