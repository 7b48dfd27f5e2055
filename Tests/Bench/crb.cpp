/// How near the lag of dry noise bursts comes to the least error that any method can have: RMS error against the
/// Cramér–Rao bound of A. H. Quazi, "An overview on the time delay estimate in active and passive systems for target
/// localization", IEEE Trans. ASSP 29 (1981), for a flat band 0 to B heard for T seconds at equal signal-to-noise ratio
/// S in both microphones: variance >= 3 / (8 pi² B³ T) (1 + 2 S) / S².
/// Beside it a maximum-likelihood estimate that is told where the burst lies: it says how near one can come here.
#include "Core/Ground/Fourier.h"
#include "accuracy/Outcome.h"
#include "accuracy/ScoreStatistics.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <numbers>
#include <random>

namespace
{
using namespace tarry;
using namespace tarry::bench;

constexpr double pi = std::numbers::pi;
constexpr double goal = 1.2; // issue: RMS error <= 1.2 x the bound

struct Case
{
    double band;     ///< Hz, B
    double duration; ///< s, T
};

double boundSd(const Case& burst, double snr)
{
    const double variance =
        3.0 / (8.0 * pi * pi * std::pow(burst.band, 3) * burst.duration) * (1.0 + 2.0 * snr) / (snr * snr);
    return std::sqrt(variance);
}

/// One burst in spot and room, each with noise of its own, white up to half the rate and S below the burst within B.
Example makeBurst(const Case& burst, double snr, double rate, unsigned seed)
{
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> gauss;
    std::uniform_real_distribution<double> uniform;
    const double start = 0.5 + 0.1 * uniform(engine), lag = 0.030 + 0.002 * uniform(engine);
    const int frames = fastSize(static_cast<int>(rate));

    Fourier fourier(frames);
    const auto time = fourier.time();
    std::fill(time.begin(), time.end(), 0.0);
    const auto first = static_cast<int>(start * rate), last = static_cast<int>((start + burst.duration) * rate);
    for (int i = first; i < last; ++i) time[static_cast<std::size_t>(i)] = gauss(engine);
    fourier.forward();
    const std::vector<std::complex<double>> white(fourier.spectrum().begin(), fourier.spectrum().end());

    const auto heard = [&](double delay) // exact: a turn of phase, and nothing above B
    {
        for (std::size_t k = 0; k < white.size(); ++k)
        {
            const double hertz = static_cast<double>(k) * rate / frames;
            fourier.spectrum()[k] = hertz < burst.band ? white[k] * std::polar(1.0, -2.0 * pi * hertz * delay) : 0.0;
        }
        fourier.inverse();
        std::vector<float> track(static_cast<std::size_t>(frames));
        for (std::size_t i = 0; i < track.size(); ++i)
            track[i] = static_cast<float>(0.1 * (fourier.time()[i] + gauss(engine) / std::sqrt(snr)));
        return track;
    };
    Example example;
    example.tier = "burst";
    example.seed = seed;
    example.settings.sampleRate = rate;
    example.spot = {heard(0.0)};
    example.room = {heard(lag)};
    example.lag = lag;
    example.polarity = Polarity::normal;
    example.hitTimes = {start};
    return example;
}

/// The likeliest lag when burst and band are known: the peak of the cross-correlation over just these, found from the
/// truth by Newton's method. (A flat spectrum needs no weighting.)
double likeliest(const Example& example, const Case& burst)
{
    const double rate = example.settings.sampleRate;
    // A margin for what the band limit rings, or else the two windows' edges cut off unlike pieces.
    const double margin = 10.0 / burst.band;
    const auto length = static_cast<int>((burst.duration + 2.0 * margin) * rate);
    const auto first = static_cast<int>((example.hitTimes.front() - margin) * rate);
    const auto late = static_cast<int>(*example.lag * rate);
    Fourier fourier(fastSize(2 * length));
    const auto transform = [&](const std::vector<float>& track, int from)
    {
        std::fill(fourier.time().begin(), fourier.time().end(), 0.0);
        std::copy_n(track.begin() + from, length, fourier.time().begin());
        fourier.forward();
        return std::vector<std::complex<double>>(fourier.spectrum().begin(), fourier.spectrum().end());
    };
    const auto spot = transform(example.spot.front(), first), room = transform(example.room.front(), first + late);
    double extra = *example.lag - late / rate;
    for (int round = 0; round < 20; ++round)
    {
        double slope = 0.0, bend = 0.0;
        for (std::size_t k = 1; static_cast<double>(k) * rate / fourier.size() < burst.band; ++k)
        {
            const double omega = 2.0 * pi * static_cast<double>(k) * rate / fourier.size();
            const auto turned = room[k] * std::conj(spot[k]) * std::polar(1.0, omega * extra);
            slope -= omega * turned.imag();
            bend -= omega * omega * turned.real();
        }
        extra -= slope / bend;
    }
    return late / rate + extra;
}

void printTables(int bursts, double rate, unsigned seed)
{
    std::printf("%d bursts a row, %.0f Hz, seeds from %u. Errors in us; goal <= %.1f x the bound.\n", bursts, rate,
                seed, goal);
    bool reached = true;
    for (const Case burst : {Case{10000.0, 0.020}, Case{1000.0, 0.050}})
    {
        std::printf(
            "\nB %.0f Hz, T %.0f ms\n| SNR dB | bound | likeliest, told where | x bound | tarry | x bound | gross or "
            "none |\n| --- | --- | --- | --- | --- | --- | --- |\n",
            burst.band, 1e3 * burst.duration);
        for (int decibels = 10; decibels <= 40; decibels += 5)
        {
            const double snr = std::pow(10.0, decibels / 10.0), bound = boundSd(burst, snr);
            std::vector<double> own, told;
            for (int i = 0; i < bursts; ++i)
            {
                const auto example = makeBurst(burst, snr, rate, seed++);
                told.push_back(likeliest(example, burst) - *example.lag);
                const auto outcome = measure(example, false);
                if (outcome.within(0, 0.001)) own.push_back(*outcome.error(0));
            }
            const double toldRms = rootMeanSquare(told), ownRms = rootMeanSquare(own);
            const auto missed = bursts - static_cast<int>(own.size());
            reached = reached && missed == 0 && ownRms <= goal * bound;
            std::printf("| %d | %.4f | %.4f | %.2f | %.4f | %.2f | %d |\n", decibels, 1e6 * bound, 1e6 * toldRms,
                        toldRms / bound, 1e6 * ownRms, ownRms / bound, missed);
        }
    }
    std::printf("\nGoal %s\n", reached ? "reached" : "missed");
}
} // namespace

int main(int argc, char** argv)
{
    try
    {
        CLI::App app{"RMS error of dry noise bursts' lags against the Cramér–Rao bound."};
        int bursts = 200;
        double rate = 48000.0;
        unsigned seed = 1;
        app.add_option("--bursts", bursts, "a row of the table")->check(CLI::Range(1, 100000));
        app.add_option("--rate", rate, "Hz")->check(CLI::Range(44100.0, 192000.0));
        app.add_option("--seed", seed, "the first burst's");
        CLI11_PARSE(app, argc, argv);
        printTables(bursts, rate, seed);
    }
    catch (const std::exception& e)
    {
        std::fprintf(stderr, "tarry-crb: %s\n", e.what());
        return 2;
    }
    return 0;
}
