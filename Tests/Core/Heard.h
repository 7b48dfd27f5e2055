#pragma once

#include "Core/Measuring.h"
#include "Hall/Scene.h"
#include "Support/Signals.h"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

/// Streams through the engine as plugin and command do it, and what came out.
namespace tarry::test
{
using Tracks = std::vector<Samples>;

inline std::vector<const float*> pointers(const Tracks& tracks, std::size_t from)
{
    std::vector<const float*> result;
    for (const Samples& track : tracks) result.push_back(track.data() + from);
    return result;
}

/// The whole stream in blocks of that size, worked on after each, then finished.
inline Report heard(MeasureSettings settings, const Tracks& spot, const Tracks& room, std::size_t block = 1024)
{
    settings.spotChannels = static_cast<int>(spot.size());
    settings.roomChannels = static_cast<int>(room.size());
    Measuring measuring;
    measuring.prepare(settings);
    const std::size_t frames = spot.front().size();
    for (std::size_t from = 0; from < frames; from += block)
    {
        measuring.process(pointers(spot, from).data(), pointers(room, from).data(),
                          static_cast<int>(std::min(block, frames - from)));
        measuring.work();
    }
    measuring.finish();
    measuring.work();
    return measuring.report();
}

inline MeasureSettings at(double sampleRate)
{
    MeasureSettings settings;
    settings.sampleRate = sampleRate;
    return settings;
}

inline Report heard(const hall::Scene& scene)
{
    return heard(at(scene.sampleRate), scene.spot, scene.room);
}

inline Report heard(const Take& take)
{
    return heard(at(take.sampleRate), {take.spot}, {take.room});
}

/// Every hit of a stream, cut into blocks as `blockSize()` says.
template <typename BlockSize>
std::vector<Hit> captured(const MeasureSettings& settings, const Tracks& spot, const Tracks& room,
                          BlockSize&& blockSize)
{
    HitCapture capture;
    capture.prepare(settings);
    HitQueue queue;
    queue.prepare(64, settings.spotChannels, settings.roomChannels, capture.windowFrames());
    std::vector<Hit> hits;
    const auto collect = [&]
    {
        while (const Hit* hit = queue.beginRead())
        {
            hits.push_back(*hit);
            queue.endRead();
        }
    };
    const std::size_t frames = spot.front().size();
    for (std::size_t from = 0; from < frames;)
    {
        const std::size_t count = std::min<std::size_t>(blockSize(), frames - from);
        capture.process(pointers(spot, from).data(), pointers(room, from).data(), static_cast<int>(count), queue);
        from += count;
        collect();
    }
    capture.finish(queue);
    collect();
    return hits;
}

/// Whatever a report says, in a form that can be compared and printed: all figures to the last bit.
inline std::string allOf(const Report& r)
{
    std::string text;
    const auto put = [&text](double x)
    { text += std::to_string(x) + "/" + std::to_string(std::hash<double>{}(x)) + " "; };
    const auto maybe = [&](const auto& x)
    {
        if (x)
            put(static_cast<double>(*x));
        else
            text += "none ";
    };
    for (const double x :
         {static_cast<double>(r.input), static_cast<double>(r.hitsFound), static_cast<double>(r.hitsUsed),
          static_cast<double>(r.hitsAgreeing), static_cast<double>(r.hitsLost), r.confidence,
          static_cast<double>(r.verdict), r.spread, r.clearDb, r.runnerUpMargin, r.driftPpmSd, r.blend.flamBefore,
          r.blend.flamAfter, r.blend.attackGainDb, r.blend.lowSumNormalDb, r.blend.lowSumInvertedDb, r.lowShare})
        put(x);
    maybe(r.lag);
    maybe(r.polarity);
    maybe(r.runnerUpLag);
    maybe(r.secondCluster);
    maybe(r.driftPpm);
    maybe(r.leakDb);
    for (const std::string& reason : r.reasons) text += reason + "\n";
    for (const PairReport& pair : r.pairs)
    {
        maybe(pair.lag);
        put(pair.confidence);
    }
    for (const HitReport& hit : r.hits)
    {
        put(hit.time);
        maybe(hit.lag);
        put(hit.weight);
        put(hit.clearDb);
    }
    for (const double x : r.features) put(x);
    for (const Curve* curve : {&r.evidence, &r.spotAttack, &r.roomAttack})
    {
        double sum = curve->start + curve->step;
        for (const float x : curve->values) sum = 0.9 * sum + static_cast<double>(x);
        put(sum);
    }
    return text;
}
} // namespace tarry::test
