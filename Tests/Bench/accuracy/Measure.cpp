#include "Core/Analysis.h"
#include "Core/Capture/HitCapture.h"
#include "Core/Capture/HitQueue.h"
#include "Outcome.h"

#include <algorithm>
#include <ctime>
#include <limits>

namespace tarry::bench
{
namespace
{
constexpr int slots = 32; // hits

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

Outcome measure(const Trial& trial, bool firstAnswer)
{
    Outcome outcome;
    outcome.family = trial.family;
    outcome.tier = trial.tier;
    outcome.name = trial.name;
    outcome.seed = trial.seed;
    outcome.sampleRate = trial.settings.sampleRate;
    outcome.lag = trial.lag;
    outcome.polarity = trial.polarity;
    outcome.louderLag = trial.louderLag;
    outcome.louderDb = trial.louderDb;
    outcome.driftPpm = trial.driftPpm;
    outcome.firstAnswer = std::numeric_limits<double>::quiet_NaN();

    auto settings = trial.settings;
    settings.spotChannels = static_cast<int>(trial.spot.size());
    settings.roomChannels = static_cast<int>(trial.room.size());
    const std::size_t frames = trial.spot.front().size();
    outcome.length = static_cast<double>(frames) / settings.sampleRate;

    // What Measuring does, but the report is asked for once unless its first right lag is looked for.
    constexpr std::size_t block = 1024;
    const double before = threadSeconds();
    HitCapture capture;
    HitQueue queue;
    Analysis analysis(settings);
    capture.prepare(settings);
    queue.prepare(slots, settings.spotChannels, settings.roomChannels, capture.windowFrames());
    const auto takeIn = [&]
    {
        bool any = false;
        for (const Hit* hit = queue.beginRead(); hit != nullptr; hit = queue.beginRead(), any = true)
        {
            analysis.add(*hit);
            queue.endRead();
        }
        return any;
    };
    for (std::size_t from = 0; from < frames; from += block)
    {
        const auto spot = pointers(trial.spot, from), room = pointers(trial.room, from);
        const auto count = std::min(block, frames - from);
        capture.process(spot.data(), room.data(), static_cast<int>(count), queue);
        if (!takeIn() || !firstAnswer || !std::isnan(outcome.firstAnswer) || !trial.lag || trial.hitTimes.empty())
            continue;
        const auto soFar = analysis.report().lag;
        if (soFar && std::abs(*soFar - *trial.lag) <= right)
            outcome.firstAnswer = static_cast<double>(from + count) / settings.sampleRate -
                                  (trial.hitTimes.front() + std::max(0.0, *trial.lag));
    }
    capture.finish(queue);
    takeIn();
    outcome.report = analysis.report();
    outcome.seconds = threadSeconds() - before;

    const auto side = static_cast<std::size_t>(outcome.report.spotSide);
    if (trial.lag && side < trial.sideLags.size()) outcome.lag = trial.sideLags[side];
    outcome.answers[0] = {outcome.report.lag, outcome.report.polarity};
    return outcome;
}

RivalAnswers measureRivals(const Trial& trial)
{
    const auto correlated = correlate(trial);
    return {correlated.phat, correlated.plain, firstBreak(trial)};
}
} // namespace tarry::bench
