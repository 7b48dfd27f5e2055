#pragma once
#include <array>
#include <string_view>

namespace tarry::bench
{
/// A constant, and the value with which the stage that it belongs to does nothing.
struct Off
{
    std::string_view constant;
    double value;
};

/// What tarry-accuracy --without can leave out. No stage has a switch of its own in the engine: a limit that nothing
/// passes, or everything, does the same.
struct Stage
{
    std::string_view name, words;
    std::array<Off, 2> off; ///< the second may be nameless
};
inline constexpr std::array stages{
    Stage{"ownership",
          "every hit counts, whoever played it",
          {{{"Decision/Ownership.margin", 1e6}, {"Decision/Ownership.groupsApart", 1e6}}}},
    Stage{"unheard",
          "sounds that the room does not answer count too",
          {{{"Decision/HeardHits.answerShare", -1e6}, {"Evidence/Evidence.heardRise", -1e6}}}},
    Stage{"first-mode", "the largest mode wins, not the first large one", {{{"Decision/StepStack.early", 1.0}, {}}}},
    Stage{"edges", "the lag is where the steps are largest", {{{"Decision/AttackEdge.plausible", -1.0}, {}}}},
    Stage{"refinement", "the response's peak does not time the lag", {{{"Decision/Arrival.borneOut", -1.0}, {}}}},
    Stage{
        "bare-copy", "a room without reflections is timed like any other", {{{"Decision/Arrival.copyNear", -1.0}, {}}}},
    Stage{"second-opinion",
          "nothing but the steps says where the lag may lie",
          {{{"Decision/SecondOpinionModel.bias", -1e6}, {}}}},
    Stage{"low-sum",
          "the attack's first push alone decides the polarity",
          {{{"Decision/PairDecision.lowDrum", 2.0}, {}}}},
    Stage{"leak", "a spot that leaks into the room is not set aside", {{{"Capture/InputCheck.leakEnough", 2.0}, {}}}},
};
} // namespace tarry::bench
