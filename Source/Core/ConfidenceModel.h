#pragma once
// Fitted 2026-11-25 by Tests/Bench/fit_confidence.py to 1038 scenes (893 of them right to 0.5 ms), training seeds
// 101000 to 127029, at commit 9b5ed752895d with changes not committed. Tiers: hall, low, one-hit, clap, roll,
// leak-40, leak-25, late-spot, neighbour-6, neighbour-6-low, neighbour-0, neighbour-0-low, ensemble, unrelated, hum,
// clipped, gated, drift, array, wild. Cross-validated: expected calibration error 0.016, Brier score 0.0397.
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

inline constexpr double bias = 3.89819768;
inline constexpr std::array<Term, 9> terms{{
    {"height", 0.841251462, 5.33132718, 3.83782462, 0.867342738, 0.176301258},
    {"runner_up", 0.143946578, 1.24807962, 0.511558109, 0.232581105, -0.52929265},
    {"weight", -1.4063664, 3.16322719, 1.56992027, 0.905225085, 0.452670281},
    {"agreement", 0, 1, 0.804249565, 0.31055343, 1.89046971},
    {"lead", 0.20208869, 4, 2.33663827, 1.15038189, -0.252180368},
    {"apart", 6.361622e-05, 0.509035938, 0.13190968, 0.12355709, -0.227505621},
    {"crowd", 0, 1, 0.334296724, 0.471744024, 0.269098701},
    {"clarity", 1.13642589, 6.58637368, 4.19691371, 0.98970415, 0.634259363},
    {"spread", 0, 0.4942, 0.0373514001, 0.0554935084, -0.213283921},
}};
} // namespace tarry::confidence_model
// clang-format on
