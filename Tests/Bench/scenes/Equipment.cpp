#include "Equipment.h"
#include "Take.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Random;

double shareIn(double seconds) // of the way to go, in one sample
{
    return 1.0 - std::exp(-1.0 / (seconds * soundRate));
}
} // namespace

void compress(std::vector<double>& spot, Random& random)
{
    const double threshold = random.between(-30.0, -15.0), keep = 1.0 / random.logBetween(3.0, 10.0);
    const double attack = shareIn(random.logBetween(0.5e-3, 20e-3)), release = shareIn(random.between(0.04, 0.25));
    double reduction = 0.0, peak = 1e-9; // dB
    for (double& x : spot)
    {
        const double over = std::max(0.0, 20.0 * std::log10(std::abs(x) + 1e-9) - threshold) * (1.0 - keep);
        reduction += (over > reduction ? attack : release) * (over - reduction);
        x *= fromDb(-reduction);
        peak = std::max(peak, std::abs(x));
    }
    for (double& x : spot) x /= peak;
}

void equalise(std::vector<double>& spot, Random& random)
{
    for (int i = 0; i < 4; ++i)
        peaking(spot, random.logBetween(60.0, 10000.0), random.between(0.5, 3.0), random.between(-10.0, 10.0));
    double peak = 1e-9;
    for (const double x : spot) peak = std::max(peak, std::abs(x));
    for (double& x : spot) x /= peak;
}

void gate(std::vector<double>& spot, Random& random)
{
    const double threshold = fromDb(random.between(-35.0, -18.0)), floor = random.coin() ? 0.0 : 0.1;
    const double opening = shareIn(random.logBetween(0.1e-3, 2e-3) / 3.0), closing = shareIn(random.between(0.05, 0.2));
    const auto hold = static_cast<int>(random.between(0.03, 0.15) * soundRate);
    double gain = floor;
    int open = 0;
    for (double& x : spot)
    {
        open = std::abs(x) > threshold ? hold : std::max(0, open - 1);
        const double aim = open > 0 ? 1.0 : floor;
        gain += (aim > gain ? opening : closing) * (aim - gain);
        x *= gain;
    }
}

void addClicks(std::vector<double>& spot, double beat, double level, Random& random)
{
    const bool tone = random.coin();
    const double hertz = random.logBetween(700.0, 3000.0), decay = random.logBetween(2e-3, 25e-3);
    const auto length = static_cast<std::size_t>(5.0 * decay * soundRate);
    const auto click = [&](double pitch)
    {
        // Headphones let out the middle: through the cushions little above 5 kHz, hardly any bass.
        std::vector<double> burst(length + 64);
        double peak = 1e-9, low = 0.0;
        for (std::size_t i = 0; i < length; ++i)
        {
            const double t = static_cast<double>(i) / soundRate;
            const double raw = tone ? std::sin(2.0 * std::numbers::pi * pitch * hertz * t) : random.gauss();
            low += 0.4 * (raw * std::exp(-t / decay) - low);
            burst[i] = low;
            peak = std::max(peak, std::abs(low));
        }
        peaking(burst, 150.0, 0.7, -12.0);
        for (double& x : burst) x *= level / peak;
        return burst;
    };
    const auto accent = click(1.5), plain = click(1.0);
    int number = 0;
    for (double at = 0.25; at * soundRate < static_cast<double>(spot.size()); at += beat)
        hall::addAt(spot, number++ % 4 == 0 ? accent : plain, at * soundRate, 1.0);
}
} // namespace tarry::bench
