#include "Core/Measuring.h"
#include "Outcome.h"

#include <algorithm>
#include <ctime>
#include <limits>

namespace tarry::bench
{
namespace
{
double threadSeconds()
{
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

std::vector<const float*> pointers(const Tracks& tracks, std::size_t from)
{
    std::vector<const float*> result;
    for (const auto& track : tracks) result.push_back(track.data() + from);
    return result;
}
} // namespace

Outcome measure(const Trial& trial, bool rivals)
{
    Outcome outcome;
    outcome.tier = trial.tier;
    outcome.name = trial.name;
    outcome.seed = trial.seed;
    outcome.sampleRate = trial.settings.sampleRate;
    outcome.lag = trial.lag;
    outcome.polarity = trial.polarity;
    outcome.driftPpm = trial.driftPpm;
    outcome.firstAnswer = std::numeric_limits<double>::quiet_NaN();

    auto settings = trial.settings;
    settings.spotChannels = static_cast<int>(trial.spot.size());
    settings.roomChannels = static_cast<int>(trial.room.size());
    const std::size_t frames = trial.spot.front().size();
    outcome.length = static_cast<double>(frames) / settings.sampleRate;

    constexpr std::size_t block = 1024;
    const double before = threadSeconds();
    Measuring measuring;
    measuring.prepare(settings);
    for (std::size_t from = 0; from < frames; from += block)
    {
        const auto spot = pointers(trial.spot, from), room = pointers(trial.room, from);
        const auto count = std::min(block, frames - from);
        measuring.process(spot.data(), room.data(), static_cast<int>(count));
        if (!measuring.work() || !std::isnan(outcome.firstAnswer) || !trial.lag || trial.hitTimes.empty()) continue;
        const auto soFar = measuring.report().lag;
        if (soFar && std::abs(*soFar - *trial.lag) <= right)
            outcome.firstAnswer = static_cast<double>(from + count) / settings.sampleRate -
                                  (trial.hitTimes.front() + std::max(0.0, *trial.lag));
    }
    measuring.finish();
    while (measuring.work())
    {
    }
    outcome.report = measuring.report();
    outcome.seconds = threadSeconds() - before;

    outcome.answers[0] = {outcome.report.lag, outcome.report.polarity};
    if (!rivals) return outcome;
    const auto correlated = correlate(trial);
    outcome.answers[1] = correlated.phat;
    outcome.answers[2] = correlated.plain;
    outcome.answers[3] = firstBreak(trial);
    return outcome;
}
} // namespace tarry::bench
