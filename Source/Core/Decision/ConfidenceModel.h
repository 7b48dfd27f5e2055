#pragma once
// Fitted by Tests/Bench/fit.py to 1670 scenes of the training set, at commit 458a4fbc46e5.
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

inline constexpr double bias = -5.62790906;
/// In the order of Features::names.
inline constexpr std::array<Term, 4> terms{{
    {-0.905007271, 4.97168546, 0.268335175}, // height
    {0, 2.99573227, 0.606940788},            // tight
    {-6, 3.72572386, 0.680785814},           // opinion
    {0.128593061, 1, 4.80729003},            // explained
}};
} // namespace tarry::confidence_model
