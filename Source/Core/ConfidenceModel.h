#pragma once
// Fitted 2026-11-25 by Tests/Bench/fit_confidence.py to 1038 scenes (893 of them right to 0.5 ms), training seeds
// 101000 to 127029, at commit 349465a83fb2 with changes not committed. Tiers: hall, low, one-hit, clap, roll,
// leak-40, leak-25, late-spot, neighbour-6, neighbour-6-low, neighbour-0, neighbour-0-low, ensemble, unrelated, hum,
// clipped, gated, drift, array, wild. Cross-validated: expected calibration error 0.021, Brier score 0.0354.
// Do not edit: fit again.
#include <array>
#include <string_view>

// clang-format off
namespace tarry::confidence_model
{
/// Adds weight * (clamp(x, low, high) - mean) / deviation to the logit of P(lag within 0.5 ms), x the feature's value.
struct Term
{
    std::string_view feature;
    double low, high, mean, deviation, weight;
};

inline constexpr double bias = 3.84914087;
inline constexpr std::array<Term, 9> terms{{
    {"height", 0.841251462, 5.33132718, 3.83782462, 0.867342738, 0.231116505},
    {"runner_up", 0.143946578, 1.24807962, 0.511558109, 0.232581105, -0.468096697},
    {"weight", -1.4063664, 3.16322719, 1.56992027, 0.905225085, 0.503672987},
    {"agreement", 0, 1, 0.850474115, 0.274105494, 1.83248666},
    {"lead", 0.20208869, 4, 2.33663827, 1.15038189, -0.347785433},
    {"apart", 6.361622e-05, 0.509035938, 0.13190968, 0.12355709, -0.262082581},
    {"crowd", 0, 1, 0.334296724, 0.471744024, 0.410890086},
    {"clarity", 1.13642589, 6.58637368, 4.19691371, 0.98970415, 1.11068859},
    {"spread", 0, 0.6486375, 0.0416639365, 0.0659193358, -0.0576691321},
}};
} // namespace tarry::confidence_model
// clang-format on
