/// What the engine costs. Run on a quiet machine; `per_fft` (times of an FFT of 2^16) and `of_real_time` (share of one
/// core) travel between machines better than times. The unit that Google Benchmark puts behind them means nothing.
#include "Core/Analysis.h"
#include "Core/Capture/HitCapture.h"
#include "Core/Capture/HitQueue.h"
#include "Core/Delay/Delay.h"
#include "Core/Ground/Fourier.h"
#include "Hall/Scene.h"

#include <benchmark/benchmark.h>

#include <chrono>
#include <random>

namespace
{
using namespace tarry;

constexpr int block = 512;

/// Seconds of one real FFT of 2^16 in double precision, the fastest of many: the yardstick, taken in the same run.
double secondsOfFft()
{
    static const double fastest = []
    {
        Fourier fourier(1 << 16);
        double least = 1.0;
        for (int i = 0; i < 200; ++i)
        {
            fourier.time()[0] = i;
            const auto start = std::chrono::steady_clock::now();
            fourier.forward();
            benchmark::DoNotOptimize(fourier.spectrum().data());
            least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
        }
        return least;
    }();
    return fastest;
}

/// A counter that shows the time of one iteration as a multiple of `seconds`.
benchmark::Counter timeAgainst(double seconds)
{
    using benchmark::Counter;
    return {seconds, Counter::kIsIterationInvariantRate | Counter::kInvert};
}

hall::Scene player(double rate)
{
    hall::SceneSpec spec;
    spec.sampleRate = rate;
    return hall::makeScene(spec);
}

/// The hits of a player's scene, as the capture hands them over.
std::vector<Hit> hitsOf(const hall::Scene& scene, const MeasureSettings& settings)
{
    HitCapture capture;
    capture.prepare(settings);
    HitQueue queue;
    queue.prepare(256, 1, 1, capture.windowFrames());
    const float* spot = scene.spot[0].data();
    const float* room = scene.room[0].data();
    capture.process(&spot, &room, static_cast<int>(scene.spot[0].size()), queue);
    capture.finish(queue);
    std::vector<Hit> hits;
    for (const Hit* hit = queue.beginRead(); hit != nullptr; hit = queue.beginRead())
    {
        hits.push_back(*hit);
        queue.endRead();
    }
    return hits;
}

void analysisOfAHit(benchmark::State& state)
{
    MeasureSettings settings;
    settings.sampleRate = static_cast<double>(state.range(0));
    const auto hits = hitsOf(player(settings.sampleRate), settings);
    if (hits.empty())
    {
        state.SkipWithError("no hits captured");
        return;
    }
    Analysis analysis(settings);
    std::size_t next = 0;
    while (state.KeepRunning())
    {
        if (next == hits.size()) // a take's worth of hits, then afresh
        {
            state.PauseTiming();
            analysis = Analysis(settings);
            next = 0;
            state.ResumeTiming();
        }
        analysis.add(hits[next++]);
        benchmark::DoNotOptimize(analysis.report());
    }
    state.counters["per_fft"] = timeAgainst(secondsOfFft());
}
BENCHMARK(analysisOfAHit)->Arg(48000)->Arg(96000)->Arg(192000)->Unit(benchmark::kMillisecond);

/// A hit with every channel the same, so often.
Hit withChannels(const Hit& hit, int channels)
{
    Hit more = hit;
    more.resize(channels, channels, hit.size());
    for (int c = 0; c < channels; ++c)
    {
        std::copy(hit.spot(0).begin(), hit.spot(0).end(), more.spot(c).begin());
        std::copy(hit.room(0).begin(), hit.room(0).end(), more.room(c).begin());
    }
    return more;
}

/// What one more hit costs when 128 are kept, the most: its evidence, and the report over all of them.
void hitAmong128(benchmark::State& state)
{
    const int channels = static_cast<int>(state.range(0));
    hall::SceneSpec spec;
    spec.sampleRate = 48000.0;
    spec.hits = 140;
    MeasureSettings settings;
    settings.sampleRate = spec.sampleRate;
    std::vector<Hit> hits = hitsOf(hall::makeScene(spec), settings);
    settings.spotChannels = settings.roomChannels = channels;
    Analysis analysis(settings);
    for (Hit& hit : hits)
    {
        hit = withChannels(hit, channels);
        analysis.add(hit);
    }
    std::uint32_t changed = 0;
    while (state.KeepRunning())
    {
        Hit& hit = hits[changed++ % hits.size()];
        hit.spot(0)[static_cast<std::size_t>(hit.before)] += 1e-6F; // or it would be known already
        analysis.add(hit);
        benchmark::DoNotOptimize(analysis.report());
    }
    state.counters["per_fft"] = timeAgainst(secondsOfFft());
}
BENCHMARK(hitAmong128)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);

void capture(benchmark::State& state)
{
    MeasureSettings settings;
    settings.sampleRate = static_cast<double>(state.range(0));
    const auto scene = player(settings.sampleRate);
    HitCapture hits;
    hits.prepare(settings);
    HitQueue queue;
    queue.prepare(8, 1, 1, hits.windowFrames());
    const auto frames = static_cast<int>(scene.spot[0].size()) / block * block;
    int from = 0;
    while (state.KeepRunning())
    {
        const float* spot = scene.spot[0].data() + from;
        const float* room = scene.room[0].data() + from;
        hits.process(&spot, &room, block, queue);
        while (queue.beginRead() != nullptr) queue.endRead();
        from = (from + block) % frames;
    }
    state.counters["of_real_time"] = timeAgainst(block / settings.sampleRate);
}
BENCHMARK(capture)->Arg(48000)->Arg(96000)->Arg(192000)->Unit(benchmark::kMicrosecond);

/// A mono spot between samples; with range(1) set, always in the middle of a crossfade.
void delay(benchmark::State& state)
{
    const auto rate = static_cast<double>(state.range(0));
    const bool fading = state.range(1) != 0;
    Delay line;
    line.prepare(rate, 1, 0.2, 0.0, fading ? 1000.0 : 0.015);
    line.setAlignment({0.0310843, Polarity::normal}, false);
    line.jump();
    if (fading) line.setAlignment({0.0352517, Polarity::inverted}, false);
    std::mt19937 engine(1);
    std::vector<float> noise(block);
    for (float& x : noise) x = static_cast<float>(engine()) / 4294967296.0F - 0.5F;
    std::vector<float> track(block);
    while (state.KeepRunning())
    {
        std::copy(noise.begin(), noise.end(), track.begin());
        float* channel = track.data();
        line.process(&channel, block);
        benchmark::DoNotOptimize(track.data());
    }
    state.counters["of_real_time"] = timeAgainst(block / rate);
}
BENCHMARK(delay)
    ->ArgNames({"rate", "fading"})
    ->Args({48000, 0})
    ->Args({48000, 1})
    ->Args({192000, 0})
    ->Unit(benchmark::kMicrosecond);

void fft65536(benchmark::State& state)
{
    Fourier fourier(1 << 16);
    while (state.KeepRunning())
    {
        fourier.time()[0] = 1.0;
        fourier.forward();
        benchmark::DoNotOptimize(fourier.spectrum().data());
    }
}
BENCHMARK(fft65536)->Unit(benchmark::kMillisecond);
} // namespace

BENCHMARK_MAIN();
