#pragma once
// Fitted 2026-11-25 by Tests/Bench/fit_confidence.py to 1819 scenes (1576 of them right to 0.5 ms), training seeds
// 101000 to 127052, at commit 9c426dff4c6a. Tiers: hall, low, one-hit, clap, roll, leak-40, leak-25, late-spot,
// neighbour-6, neighbour-6-low, neighbour-0, neighbour-0-low, ensemble, unrelated, hum, clipped, gated, drift,
// array, wild. Cross-validated: expected calibration error 0.008, Brier score 0.0214.
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

inline constexpr double bias = 4.72045385;
inline constexpr std::array<Term, 10> terms{{
    {"height", -0.802416349, 5.33153901, 3.80320295, 0.929128108, -0.675792153},
    {"runner_up", 0, 1.24928469, 0.506455885, 0.23068587, -0.5111815},
    {"weight", -1.4063664, 3.16355765, 1.55735781, 0.900303747, -0.142581141},
    {"agreement", 0, 1, 0.893074075, 0.22783023, 0.0693633456},
    {"lead", 0, 4, 2.3054288, 1.15383755, -0.688812406},
    {"apart", 0, 0.520812229, 0.099930403, 0.130005274, -0.542457527},
    {"crowd", 0, 1, 0.326553051, 0.468952189, 0.42033797},
    {"clarity", 0, 6.55185937, 4.17252927, 1.03222905, 2.08282845},
    {"spread", 0, 0.61775, 0.0541737758, 0.0784482269, -0.283291946},
    {"loudness", 0, 1, 0.861782535, 0.278357344, 2.35619793},
}};
} // namespace tarry::confidence_model
// clang-format on
