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

/// Plays the example to an analysis, block by block; after each block with a new hit `heard(frames so far)`.
template <typename Heard>
std::unique_ptr<Analysis> play(const Example& example, Heard heard)
{
    auto settings = example.settings;
    settings.spotChannels = static_cast<int>(example.spot.size());
    settings.roomChannels = static_cast<int>(example.room.size());
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
    const std::size_t frames = example.spot.front().size();
    for (std::size_t from = 0; from < frames; from += block)
    {
        const auto spot = pointers(example.spot, from), room = pointers(example.room, from);
        const auto count = std::min(block, frames - from);
        capture.process(spot.data(), room.data(), static_cast<int>(count), queue);
        if (takeIn()) heard(*analysis, from + count);
    }
    capture.finish(queue);
    takeIn();
    return analysis;
}
} // namespace

std::unique_ptr<Analysis> takeIn(const Example& example)
{
    return play(example, [](const Analysis&, std::size_t) {});
}

Outcome outcomeOf(const Example& example, Report report)
{
    Outcome outcome;
    outcome.family = example.family;
    outcome.tier = example.tier;
    outcome.name = example.name;
    outcome.seed = example.seed;
    outcome.sampleRate = example.settings.sampleRate;
    outcome.lag = example.lag;
    outcome.polarity = example.polarity;
    outcome.louderLag = example.louderLag;
    outcome.louderDb = example.louderDb;
    outcome.driftPpm = example.driftPpm;
    outcome.firstAnswer = std::numeric_limits<double>::quiet_NaN();
    const auto side = static_cast<std::size_t>(report.spotSide);
    if (example.lag && side < example.sideLags.size()) outcome.lag = example.sideLags[side];
    outcome.answers[0] = {report.lag, report.polarity};
    outcome.report = std::move(report);
    return outcome;
}

Outcome measure(const Example& example, bool firstAnswer)
{
    double first = std::numeric_limits<double>::quiet_NaN();
    const double before = threadSeconds();
    const auto analysis = play(example,
                               [&](const Analysis& soFar, std::size_t frames)
                               {
                                   if (!firstAnswer || !std::isnan(first) || !example.lag || example.hitTimes.empty())
                                       return;
                                   const auto lag = soFar.report().lag;
                                   if (lag && std::abs(*lag - *example.lag) <= right)
                                       first = static_cast<double>(frames) / example.settings.sampleRate -
                                               (example.hitTimes.front() + std::max(0.0, *example.lag));
                               });
    auto outcome = outcomeOf(example, analysis->report());
    outcome.seconds = threadSeconds() - before;
    outcome.length = static_cast<double>(example.spot.front().size()) / example.settings.sampleRate;
    outcome.firstAnswer = first;
    return outcome;
}

RivalAnswers measureRivals(const Example& example)
{
    const auto correlated = correlate(example);
    return {correlated.phat, correlated.plain, firstBreak(example)};
}
} // namespace tarry::bench
