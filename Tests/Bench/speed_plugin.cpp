/// What the plugin's engine costs on the audio thread, beside a delay line of JUCE's. `of_core` is the share of one
/// core; by the processor's clock for this thread alone, so that a busy machine tells the same.
#include "Plugin/Engine.h"

#include <benchmark/benchmark.h>
#include <juce_dsp/juce_dsp.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <numbers>
#include <random>
#include <vector>

namespace
{
using namespace tarry;

constexpr double rate = 96000.0;
constexpr double lag = 0.0310843; // s, between samples

double cpuSeconds()
{
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// A drum four times a second in a stereo spot, later in a stereo room, over noise: 8 s of it.
class Rig
{
public:
    explicit Rig(bool frozen)
    {
        std::mt19937 random(3);
        std::uniform_real_distribution<float> noise(-1.0F, 1.0F);
        const auto drum = [](double t) { return t < 0.0 ? 0.0 : std::exp(-std::fmod(t, 0.25) / 0.02); };
        for (std::size_t c = 0; c < 2; ++c)
            for (std::size_t i = 0; i < frames; ++i)
            {
                const double t = static_cast<double>(i) / rate;
                spot[c].push_back(noise(random) * static_cast<float>(0.5 * drum(t) + 1e-3));
                room[c].push_back(noise(random) * static_cast<float>(0.05 * drum(t - lag) + 1e-3));
            }
        controls.freezeWhenSettled = false;
        engine.prepare({rate, 2, 2}, controls);
        if (frozen) engine.setByHand(Sides::both({lag, Polarity::normal}));
    }

    void block(int size)
    {
        if (at + static_cast<std::size_t>(size) > frames) at = 0;
        for (std::size_t c = 0; c < 2; ++c)
        {
            std::copy_n(spot[c].data() + at, size, out[c].data());
            heard[c] = room[c].data() + at;
        }
        at += static_cast<std::size_t>(size);
        float* outs[] = {out[0].data(), out[1].data()};
        engine.process(outs, heard, size, controls, false);
    }

    Engine engine;
    Controls controls;

private:
    static constexpr std::size_t frames = 8 * 96000;
    std::vector<float> spot[2], room[2], out[2]{std::vector<float>(8192), std::vector<float>(8192)};
    const float* heard[2] = {};
    std::size_t at = 0;
};

/// Share of a core over `seconds` of audio; the worker's part runs in between and is not counted. The clock is read
/// once in 64 blocks: it costs as much as a tenth of one.
double shareOf(Rig& rig, int size, double seconds)
{
    double busy = 0.0, played = 0.0;
    while (played < seconds)
    {
        const double start = cpuSeconds();
        for (int i = 0; i < 64; ++i, played += size / rate) rig.block(size);
        busy += cpuSeconds() - start;
        rig.engine.work(rig.controls);
    }
    return busy / played;
}

/// The least of some: what the rest of the machine does can only add to it.
template <typename Act>
double least(int times, Act act)
{
    double best = 1.0e9;
    for (int i = 0; i < times; ++i) best = std::min(best, act());
    return best;
}

double lagrangeShare(int size, double seconds)
{
    juce::dsp::DelayLine<float, juce::dsp::DelayLineInterpolationTypes::Lagrange3rd> line(32768);
    line.prepare({rate, static_cast<juce::uint32>(size), 2});
    line.setDelay(static_cast<float>(lag * rate));
    std::vector<float> track(static_cast<std::size_t>(size), 0.25F), other = track;
    float* channels[] = {track.data(), other.data()};
    double busy = 0.0, played = 0.0;
    while (played < seconds)
    {
        juce::dsp::AudioBlock<float> block(channels, 2, static_cast<std::size_t>(size));
        const double start = cpuSeconds();
        for (int i = 0; i < 64; ++i, played += size / rate)
        {
            line.process(juce::dsp::ProcessContextReplacing<float>(block));
            benchmark::DoNotOptimize(track.data());
        }
        busy += cpuSeconds() - start;
    }
    return busy / played;
}

/// Largest error of a delayed sine, dB against it.
template <typename Delayed>
double errorDb(double hertz, double samples, Delayed delayed)
{
    const auto sine = [hertz](double i) { return std::sin(2.0 * std::numbers::pi * hertz * i / rate); };
    double worst = 0.0;
    for (int i = 0; i < 20000; ++i)
    {
        const double out = static_cast<double>(delayed(static_cast<float>(sine(i))));
        if (i > 10000) worst = std::max(worst, std::abs(out - sine(i - samples)));
    }
    return 20.0 * std::log10(worst);
}

void audioThread(benchmark::State& state)
{
    for (auto _ : state) // NOLINT: once is enough, it repeats by itself
    {
        const double frozen = least(5,
                                    []
                                    {
                                        Rig rig(true);
                                        return shareOf(rig, 64, 4.0);
                                    });
        const double measuring = least(3,
                                       []
                                       {
                                           Rig rig(false);
                                           return shareOf(rig, 64, 4.0);
                                       });
        const double lagrange = least(5, [] { return lagrangeShare(64, 4.0); });
        const double samples = lag * rate;
        Delay ours;
        ours.prepare(rate, 1, 0.3, 0.0);
        ours.setAlignment({lag, Polarity::normal}, false);
        ours.jump();
        juce::dsp::DelayLine<float, juce::dsp::DelayLineInterpolationTypes::Lagrange3rd> theirs(32768);
        theirs.prepare({rate, 1, 1});
        theirs.setDelay(static_cast<float>(samples));
        state.counters["frozen_of_core_percent"] = 100.0 * frozen;
        state.counters["measuring_against_frozen"] = measuring / frozen;
        state.counters["frozen_against_lagrange"] = frozen / lagrange;
        state.counters["error_15k_dB"] = errorDb(15000.0, samples,
                                                 [&](float x)
                                                 {
                                                     float* channel = &x;
                                                     ours.process(&channel, 1);
                                                     return x;
                                                 });
        state.counters["lagrange_15k_dB"] = errorDb(15000.0, static_cast<double>(static_cast<float>(samples)),
                                                    [&](float x)
                                                    {
                                                        theirs.pushSample(0, x);
                                                        return theirs.popSample(0);
                                                    });
        if (frozen > 0.002) state.SetLabel("falls short: frozen stereo costs more than 0.2 % of a core");
        if (measuring > 3.0 * frozen) state.SetLabel("falls short: measuring costs more than three times frozen");
    }
}
BENCHMARK(audioThread)->Iterations(1)->Unit(benchmark::kSecond);

/// Blocks of 32 frames while measuring: the 99.99th percentile of what one takes, as a share of its period.
void worstBlock(benchmark::State& state)
{
    for (auto _ : state) // NOLINT
    {
        Rig rig(false);
        std::vector<double> shares;
        for (int i = 0; i < 100000; ++i)
        {
            const double start = cpuSeconds();
            rig.block(32);
            shares.push_back((cpuSeconds() - start) / (32 / rate));
            if (i % 64 == 0) rig.engine.work(rig.controls);
        }
        const auto place = shares.begin() + static_cast<std::ptrdiff_t>(0.9999 * static_cast<double>(shares.size()));
        std::nth_element(shares.begin(), place, shares.end());
        state.counters["of_its_period_percent"] = 100.0 * *place;
        if (*place > 0.2) state.SetLabel("falls short: the worst block takes more than 20 % of its period");
    }
}
BENCHMARK(worstBlock)->Iterations(1)->Unit(benchmark::kSecond);
} // namespace
