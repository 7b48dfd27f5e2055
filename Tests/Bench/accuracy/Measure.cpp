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

/// Plays the trial to an analysis, block by block; after each block with a new hit `heard(frames so far)`.
template <typename Heard>
std::unique_ptr<Analysis> play(const Trial& trial, Heard heard)
{
    auto settings = trial.settings;
    settings.spotChannels = static_cast<int>(trial.spot.size());
    settings.roomChannels = static_cast<int>(trial.room.size());
    auto analysis = std::make_unique<Analysis>(settings);
    HitCapture capture;
    HitQueue queue;
    capture.prepare(settings);
    queue.prepare(slots, settings.spotChannels, settings.roomChannels, capture.windowFrames());
    const auto takeIn = [&]
    {
        bool any = false;
        for (const Hit* hit = queue.beginRead(); hit != nullptr; hit = queue.beginRead(), any = true)
        {
            analysis->add(*hit);
            queue.endRead();
        }
        return any;
    };
    constexpr std::size_t block = 1024;
    const std::size_t frames = trial.spot.front().size();
    for (std::size_t from = 0; from < frames; from += block)
    {
        const auto spot = pointers(trial.spot, from), room = pointers(trial.room, from);
        const auto count = std::min(block, frames - from);
        capture.process(spot.data(), room.data(), static_cast<int>(count), queue);
        if (takeIn()) heard(*analysis, from + count);
    }
    capture.finish(queue);
    takeIn();
    return analysis;
}
} // namespace

std::unique_ptr<Analysis> takeIn(const Trial& trial)
{
    return play(trial, [](const Analysis&, std::size_t) {});
}

Outcome outcomeOf(const Trial& trial, Report report)
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
    const auto side = static_cast<std::size_t>(report.spotSide);
    if (trial.lag && side < trial.sideLags.size()) outcome.lag = trial.sideLags[side];
    outcome.answers[0] = {report.lag, report.polarity};
    outcome.report = std::move(report);
    return outcome;
}

Outcome measure(const Trial& trial, bool firstAnswer)
{
    double first = std::numeric_limits<double>::quiet_NaN();
    const double before = threadSeconds();
    const auto analysis = play(trial,
                               [&](const Analysis& soFar, std::size_t frames)
                               {
                                   if (!firstAnswer || !std::isnan(first) || !trial.lag || trial.hitTimes.empty())
                                       return;
                                   const auto lag = soFar.report().lag;
                                   if (lag && std::abs(*lag - *trial.lag) <= right)
                                       first = static_cast<double>(frames) / trial.settings.sampleRate -
                                               (trial.hitTimes.front() + std::max(0.0, *trial.lag));
                               });
    auto outcome = outcomeOf(trial, analysis->report());
    outcome.seconds = threadSeconds() - before;
    outcome.length = static_cast<double>(trial.spot.front().size()) / trial.settings.sampleRate;
    outcome.firstAnswer = first;
    return outcome;
}

RivalAnswers measureRivals(const Trial& trial)
{
    const auto correlated = correlate(trial);
    return {correlated.phat, correlated.plain, firstBreak(trial)};
}
} // namespace tarry::bench
