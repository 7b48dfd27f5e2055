#pragma once
// Fitted 2026-11-25 by Tests/Bench/fit_confidence.py to 1038 scenes (894 of them right to 0.5 ms), training seeds
// 101000 to 127029, at commit 079154ae338f with changes not committed. Tiers: hall, low, one-hit, clap, roll,
// leak-40, leak-25, late-spot, neighbour-6, neighbour-6-low, neighbour-0, neighbour-0-low, ensemble, unrelated, hum,
// clipped, gated, drift, array, wild. Cross-validated: expected calibration error 0.020, Brier score 0.0374.
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

inline constexpr double bias = 3.76853348;
inline constexpr std::array<Term, 9> terms{{
    {"height", -0.802416349, 5.33153901, 3.81183795, 0.92496049, 0.336641974},
    {"runner_up", 0.146805673, 1.24920525, 0.508934206, 0.234691646, -0.214879824},
    {"weight", -1.4063664, 3.16322719, 1.56992027, 0.905225085, 0.209571167},
    {"agreement", 0, 1, 0.849414485, 0.27437978, 1.71478326},
    {"lead", 0.205068717, 4, 2.32276309, 1.14734258, -0.562045287},
    {"apart", 6.95277585e-05, 0.520812229, 0.132322416, 0.126228233, -0.334526712},
    {"crowd", 0, 1, 0.334296724, 0.471744024, 0.41216585},
    {"clarity", 0.836981907, 6.55185937, 4.19166014, 1.01931534, 1.29293818},
    {"spread", 0, 0.555975, 0.0407048242, 0.062343801, -0.111386255},
}};
} // namespace tarry::confidence_model
// clang-format on
