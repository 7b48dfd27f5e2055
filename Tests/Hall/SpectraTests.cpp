#include "Hall/Random.h"
#include "Hall/Spectra.h"
#include "Support/Catch.h"

#include <algorithm>
#include <array>
#include <numbers>

using namespace tarry::hall;

TEST_CASE("Spectra: there and back is the same signal", "[hall]")
{
    Random random(1, 1);
    std::vector<double> signal(960);
    for (double& value : signal) value = random.gauss();
    const auto back = signalOf(spectrumOf(signal, 960), 960);
    double worst = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i) worst = std::max(worst, std::abs(back[i] - signal[i]));
    INFO("worst error " << worst << ", limit 1e-12");
    CHECK(worst < 1e-12);
}

TEST_CASE("Spectra: sizes are even, long enough, and of small primes", "[hall]")
{
    for (std::size_t wanted : {2UL, 3UL, 1000UL, 48001UL, 500000UL})
    {
        std::size_t size = transformSize(wanted);
        CHECK(size >= wanted);
        CHECK(size % 2 == 0);
        for (std::size_t prime : {2UL, 3UL, 5UL})
            while (size % prime == 0) size /= prime;
        CHECK(size == 1);
    }
}

TEST_CASE("Spectra: a signal put at a fractional time is a pure shift of phase", "[hall]")
{
    // The shift theorem: an impulse at time d has the spectrum exp(-j w d). Checked up to 0.4 of the rate.
    constexpr std::size_t size = 512;
    for (const double place : {200.0, 200.25, 200.5, 201.9})
    {
        std::vector<double> target(size);
        addAt(target, std::array{1.0}, place, 1.0);
        const Spectrum spectrum = spectrumOf(target, size);
        double worst = 0.0;
        for (std::size_t bin = 0; bin < static_cast<std::size_t>(0.4 * size); ++bin)
        {
            const double omega = 2.0 * std::numbers::pi * static_cast<double>(bin) / size;
            worst = std::max(worst, std::abs(spectrum[bin] - std::polar(1.0, -omega * place)));
        }
        INFO("at " << place << ": worst error " << 20.0 * std::log10(worst) << " dB, limit -80 dB");
        CHECK(worst < 1e-4);
    }
}

TEST_CASE("Spectra: what falls outside is lost, and nothing else", "[hall]")
{
    std::vector<double> target(8);
    addAt(target, std::array{1.0, 2.0}, -1.0, 1.0);
    CHECK(target[0] == Approx(2.0));
    addAt(target, std::array{1.0, 2.0}, 7.0, 1.0);
    CHECK(target[7] == Approx(1.0));
}

TEST_CASE("Spectra: a minimum-phase response keeps its magnitude and its causality", "[hall]")
{
    constexpr std::size_t size = 4096;
    const auto gain = [](std::size_t bin) { return 0.9 - 0.5 * static_cast<double>(bin) / size; };
    const Spectrum spectrum = minimumPhase(gain, size);
    double worst = 0.0;
    for (std::size_t bin = 0; bin < spectrum.size(); ++bin)
        worst = std::max(worst, std::abs(std::abs(spectrum[bin]) - gain(bin)));
    INFO("worst magnitude error " << worst << ", limit 1e-9");
    CHECK(worst < 1e-9);

    const auto response = signalOf(spectrum, size);
    double early = 0.0;
    double late = 0.0; // the second half stands for negative time
    for (std::size_t i = 0; i < size; ++i) (i < size / 2 ? early : late) += response[i] * response[i];
    INFO("energy before zero " << 10.0 * std::log10(late / early) << " dB, limit -80 dB");
    CHECK(late < 1e-8 * early);
}
