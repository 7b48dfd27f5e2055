#pragma once
// Fitted by Tests/Bench/fit.py to 1598 scenes of the training set, at commit d1c48a94ea85.
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

inline constexpr double bias = -9.2688728;
/// In the order of Features::names.
inline constexpr std::array<Term, 5> terms{{
    {-0.840919384, 4.97293885, 0.655962609}, // height
    {0.405465108, 3.19867312, 0.807439041},  // hits
    {0, 0.599727741, 2.87600803},            // near
    {-6, 3.22291681, 0.423412605},           // opinion
    {0.101247912, 1, 6.69638398},            // explained
}};
} // namespace tarry::confidence_model
