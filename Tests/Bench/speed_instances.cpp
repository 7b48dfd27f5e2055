/// What many instances of the plugin cost together: memory each, two hundred at once, and how long one takes to load
/// and its editor to open. Times are of the thread's or the process's own clock, so that a busy machine tells the same.
#include "Editor/Editor.h"
#include "Host/RawVst3.h"
#include "Plugin/Processor.h"

#include <benchmark/benchmark.h>

#include <chrono>
#include <cmath>
#include <ctime>
#include <fstream>
#include <malloc.h>
#include <memory>
#include <random>
#include <thread>
#include <unistd.h>
#include <vector>

namespace
{
using namespace tarry;

constexpr double rate = 48000.0;
constexpr int block = 512;

double seconds(clockid_t clock)
{
    timespec now{};
    clock_gettime(clock, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// MB that the process has in memory, what is freed given back.
double residentMb()
{
    malloc_trim(0);
    std::ifstream file("/proc/self/statm");
    double total = 0.0, resident = 0.0;
    file >> total >> resident;
    return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

/// Ten seconds of a drum four times a second, later in the room, over noise, in stereo; for all instances the same.
class Take
{
public:
    Take()
    {
        std::mt19937 random(3);
        std::uniform_real_distribution<float> noise(-1.0F, 1.0F);
        const auto drum = [](double t) { return t < 0.0 ? 0.0 : std::exp(-std::fmod(t, 0.25) / 0.02); };
        for (int c = 0; c < 4; ++c)
            for (std::size_t i = 0; i < frames; ++i)
            {
                const double t = static_cast<double>(i) / rate - (c < 2 ? 0.0 : 0.031);
                channel[c].push_back(noise(random) * static_cast<float>((c < 2 ? 0.5 : 0.05) * drum(t) + 1e-3));
            }
    }
    static constexpr std::size_t frames = 10 * 48000 / block * block;
    std::vector<float> channel[4];
};

/// An instance with its worker, as a host has it.
class Instance
{
public:
    Instance(const Take& played, bool frozen, std::size_t from) : take(played), at(from)
    {
        *processor.parameters.freezeWhenSettled = false;
        processor.prepareToPlay(rate, block);
        if (frozen) processor.engine().setByHand(Sides::both({0.0310843, Polarity::normal}));
    }
    void play()
    {
        for (int c = 0; c < 4; ++c) buffer.copyFrom(c, 0, take.channel[c].data() + at, block);
        at = (at + block) % Take::frames;
        processor.processBlock(buffer, midi);
    }

    [[nodiscard]] unsigned reports() const { return processor.engine().reportNumber(); }

private:
    const Take& take;
    std::size_t at;
    Processor processor;
    juce::AudioBuffer<float> buffer{4, block};
    juce::MidiBuffer midi;
};

using Instances = std::vector<std::unique_ptr<Instance>>;

Instances make(const Take& take, int count, bool frozen)
{
    Instances all;
    for (int i = 0; i < count; ++i) // each elsewhere in the take
        all.push_back(std::make_unique<Instance>(take, frozen, static_cast<std::size_t>(i) * 4800 / block * block));
    return all;
}

/// Waits until the workers have nothing more to say of what was played.
void letWork(const Instances& all)
{
    const auto reports = [&all]
    {
        unsigned sum = 0;
        for (const auto& each : all) sum += each->reports();
        return sum;
    };
    for (unsigned before = reports() - 1; before != reports();)
    {
        before = reports();
        std::this_thread::sleep_for(std::chrono::milliseconds(120)); // they come by every 50 ms where all is quiet
    }
}

/// MB of each of `count` that have played the take once.
double memoryOfEach(const Take& take, bool frozen, int count = 20)
{
    const double before = residentMb();
    auto all = make(take, count, frozen);
    for (std::size_t at = 0; at < Take::frames; at += block)
    {
        for (auto& each : all) each->play();
        if (at % (block * 20) == 0) letWork(all);
    }
    letWork(all);
    return (residentMb() - before) / count;
}

void memory(benchmark::State& state)
{
    const juce::ScopedJuceInitialiser_GUI juce;
    const Take take;
    (void)memoryOfEach(take, true,
                       1); // what the process makes once for all, and no more: freed memory would be used again
    for (auto _ : state)   // NOLINT
    {
        state.counters["frozen_MB"] = memoryOfEach(take, true);
        state.counters["measuring_MB"] = memoryOfEach(take, false);
        if (state.counters["frozen_MB"] > 4.0) state.SetLabel("falls short: a frozen instance takes more than 4 MB");
        if (state.counters["measuring_MB"] > 32.0)
            state.SetLabel("falls short: a measuring instance takes more than 32 MB");
    }
}
BENCHMARK(memory)->Iterations(1)->Unit(benchmark::kSecond);

/// Two hundred at once for ten seconds on two audio threads, as fast as a host in real time asks for them.
void twoHundred(benchmark::State& state)
{
    const juce::ScopedJuceInitialiser_GUI juce;
    const Take take;
    for (auto _ : state) // NOLINT
        for (const bool frozen : {true, false})
        {
            Instances halves[] = {make(take, 100, frozen), make(take, 100, frozen)};
            const auto period = std::chrono::duration<double>(block / rate);
            double audio[2] = {};
            int missed[2] = {};
            const double before = seconds(CLOCK_PROCESS_CPUTIME_ID);
            std::vector<std::thread> threads;
            for (int half = 0; half < 2; ++half)
                threads.emplace_back(
                    [&, half]
                    {
                        const auto start = std::chrono::steady_clock::now();
                        for (int i = 0; i < static_cast<int>(Take::frames / block); ++i)
                        {
                            const double begun = seconds(CLOCK_THREAD_CPUTIME_ID);
                            for (auto& each : halves[half]) each->play();
                            const double took = seconds(CLOCK_THREAD_CPUTIME_ID) - begun;
                            audio[half] += took;
                            if (took > period.count()) ++missed[half];
                            std::this_thread::sleep_until(
                                start + std::chrono::duration_cast<std::chrono::nanoseconds>(period * (i + 1)));
                        }
                    });
            for (auto& thread : threads) thread.join();
            const double length = static_cast<double>(Take::frames) / rate;
            const double all = seconds(CLOCK_PROCESS_CPUTIME_ID) - before;
            const std::string name = frozen ? "frozen" : "measuring";
            state.counters[name + "_audio_cores"] = (audio[0] + audio[1]) / length;
            state.counters[name + "_all_cores"] = all / length;
            state.counters[name + "_missed"] = missed[0] + missed[1];
            if (missed[0] + missed[1] > 0) state.SetLabel("falls short: a round of blocks took longer than its period");
        }
}
BENCHMARK(twoHundred)->Iterations(1)->Unit(benchmark::kSecond);

/// ms of the process's clock that something takes the first time, which counts, and at its quickest: later ones find
/// some of it in memory.
template <typename Act>
void timeTheFirst(benchmark::State& state, double atMost, Act act)
{
    double least = 1e9, first = 0.0;
    for (auto _ : state) // NOLINT
    {
        const double begun = seconds(CLOCK_PROCESS_CPUTIME_ID);
        act();
        const double took = 1e3 * (seconds(CLOCK_PROCESS_CPUTIME_ID) - begun);
        least = std::min(least, took);
        if (first == 0.0) first = took;
    }
    state.counters["first_ms"] = first;
    state.counters["least_ms"] = least;
    if (first > atMost) state.SetLabel("falls short: the first takes more than " + std::to_string(atMost) + " ms");
}

/// From the file on disk to an instance that plays.
void load(benchmark::State& state)
{
    timeTheFirst(state, 50.0,
                 [&state]
                 {
                     const auto plugin = host::loadRawVst3(TARRY_VST3);
                     if (!plugin->start(rate, block, 2, 2)) state.SkipWithError("refused stereo");
                 });
}
BENCHMARK(load)->Iterations(5)->Unit(benchmark::kMillisecond);

/// Made, laid out and painted once, as a window that opens does.
void openEditor(benchmark::State& state)
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.prepareToPlay(rate, block);
    timeTheFirst(state, 150.0,
                 [&processor]
                 {
                     const std::unique_ptr<juce::AudioProcessorEditor> editor(makeEditor(processor));
                     benchmark::DoNotOptimize(editor->createComponentSnapshot(editor->getLocalBounds()));
                 });
}
BENCHMARK(openEditor)->Iterations(5)->Unit(benchmark::kMillisecond);
} // namespace
