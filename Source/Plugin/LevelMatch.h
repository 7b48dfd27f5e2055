#pragma once
#include "Plugin/BlindSwitch.h"

#include <optional>

namespace tarry
{
/// Both sides of the A/B equally loud, by the blind trial's own sound: measured by ITU-R BS.1770 for 10 s, then every
/// switch goes by way of it. Until then the A/B is as loud as it is. [worker]
class LevelMatch
{
public:
    explicit LevelMatch(BlindSwitch& sound) : blind(sound) {}

    /// What is to be compared now, or nothing; and the side that is heard. Called at every turn of the worker: what is
    /// still being dragged is waited for.
    void follow(const std::optional<ComparedBlends>& wanted, bool aligned);

    /// A trial has the sound to itself.
    void setTrialRuns(bool runs);

private:
    static constexpr int calm = 30; // turns of the worker without a change

    void end();

    BlindSwitch& blind;
    bool trialRuns = false;
    std::optional<ComparedBlends> compared, latest;
    std::optional<bool> heard;
    int turns = 0;
};
} // namespace tarry
