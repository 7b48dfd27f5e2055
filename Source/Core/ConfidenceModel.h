#pragma once
// Not fitted yet: weights by hand.
// Do not edit: fit again.
#include <array>
#include <string_view>

// clang-format off
namespace tarry::confidence_model
{
struct Term
{
    std::string_view feature;
    double low, high, mean, deviation, weight;
};

inline constexpr double bias = 2.0;
inline constexpr std::array<Term, 4> terms{{
    {"height", 0.0, 5.0, 2.5, 0.7, 1.0},
    {"runner_up", 0.0, 1.5, 0.6, 0.2, -1.0},
    {"agreement", 0.0, 1.0, 0.7, 0.25, 1.0},
    {"weight", -3.0, 4.0, 1.0, 0.7, 0.3},
}};
} // namespace tarry::confidence_model
// clang-format on
