#include "Hall/Drum.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::hall
{
namespace
{
constexpr double pi = std::numbers::pi;

/// A mode of an ideal round membrane: nodal diameters m, and the zero z of J_m (Fletcher and Rossing, The Physics of
/// Musical Instruments, chapter 3). Those without diameters move air on the whole, as 1 / (z J_1(z)) against the first.
struct Mode
{
    int diameters;
    double zero;
    double volume = 0.0;
};
constexpr std::array<Mode, 10> modes{{{0, 2.405, 1.0},
                                      {1, 3.832},
                                      {2, 5.136},
                                      {0, 5.520, -0.665},
                                      {3, 6.380},
                                      {1, 7.016},
                                      {4, 7.588},
                                      {2, 8.417},
                                      {0, 8.654, 0.531},
                                      {5, 8.771}}};

/// J_m by its integral (Bessel 1824); the standard library's is not everywhere.
double besselJ(int order, double x)
{
    constexpr int steps = 64;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i)
    {
        const double angle = pi * (i + 0.5) / steps;
        sum += std::cos(order * angle - x * std::sin(angle));
    }
    return sum / steps;
}

/// Second-order Butterworth low- or high-pass, in place (bilinear, warped to `hertz`).
void filter(std::vector<double>& signal, double hertz, bool highPass, double sampleRate)
{
    const double k = std::tan(pi * std::min(hertz, 0.45 * sampleRate) / sampleRate);
    const double norm = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
    const double b0 = highPass ? norm : k * k * norm;
    const double b1 = highPass ? -2.0 * b0 : 2.0 * b0;
    const double a1 = 2.0 * (k * k - 1.0) * norm;
    const double a2 = (1.0 - std::numbers::sqrt2 * k + k * k) * norm;
    double z1 = 0.0;
    double z2 = 0.0;
    for (double& value : signal)
    {
        const double out = b0 * value + z1;
        z1 = b1 * value - a1 * out + z2;
        z2 = b0 * value - a2 * out;
        value = out;
    }
}

/// Noise that rises and decays, between two frequencies, its largest value about 1 at any sample rate.
std::vector<double> burst(double low, double high, double riseTime, double decay, double sampleRate, Random& random)
{
    // Held to what every rate from 44.1 kHz up can carry, then filtered: nothing is left near half the rate.
    const double top = std::min(high, 0.3 * sampleRate);
    std::vector<double> signal(static_cast<std::size_t>((riseTime + 7.0 * decay) * sampleRate) + 1);
    for (std::size_t i = 0; i < signal.size(); ++i)
    {
        const double t = static_cast<double>(i) / sampleRate;
        signal[i] = random.gauss() * (1.0 - std::exp(-2.0 * t / riseTime)) * std::exp(-t / decay);
    }
    filter(signal, top, false, sampleRate);
    filter(signal, top, false, sampleRate);
    filter(signal, low, true, sampleRate);
    const double expected = 2.0 * std::sqrt(2.0 * (top - low) / sampleRate); // of a sample, times two
    for (double& value : signal) value /= expected;
    return signal;
}

/// The head's acceleration after a force of one raised cosine, as near and far microphones hear it.
std::array<std::vector<double>, 2> headSound(const Drum& drum, Point strike, Point toNear, Point toFar,
                                             double sampleRate, Random& random)
{
    const auto samples = static_cast<std::size_t>(std::min(0.7, drum.ring * 0.8) * sampleRate);
    std::vector<double> force(samples);
    for (std::size_t i = 0; i < samples; ++i)
    {
        const double t = static_cast<double>(i) / sampleRate;
        if (t < drum.contact) force[i] = 0.5 - 0.5 * std::cos(2.0 * pi * t / drum.contact);
    }
    std::array<std::vector<double>, 2> heard{std::vector<double>(samples), std::vector<double>(samples)};
    const double away = std::hypot(strike.x, strike.y);
    const double struckAt = std::atan2(strike.y, strike.x);
    for (std::size_t index = 0; index < modes.size(); ++index)
    {
        const Mode mode = modes[index];
        const double hertz = drum.fundamental * mode.zero / modes[0].zero * drum.modeTuning[index];
        if (hertz > 0.3 * sampleRate) break;
        const double omega = 2.0 * pi * hertz;
        const double damping = 3.0 * std::numbers::ln10 / drum.ring * std::pow(hertz / drum.fundamental, 1.2);
        // No two hits take hold of a mode alike: the strike point, and the grip.
        const double shape = besselJ(mode.diameters, mode.zero * away / drum.radius) * (1.0 + 0.25 * random.gauss());
        const double wave = omega * drum.radius / 343.0; // ka
        std::array<double, 2> gains{};
        for (std::size_t side = 0; side < 2; ++side)
        {
            // A mode with m nodal diameters is a multipole of order m: it reaches far as (ka / (1 + ka))^m, and close
            // by it is heard besides as the near field that falls with distance.
            const Point to = side == 0 ? toNear : toFar;
            const double distance = length(to);
            const double flat = std::hypot(to.x, to.y) / distance;
            const double reach = std::pow(wave / (1.0 + wave) * flat, mode.diameters);
            const double close = std::pow(drum.radius / (drum.radius + distance), 1.0 + mode.diameters);
            const double turn = std::cos(mode.diameters * (std::atan2(to.y, to.x) - struckAt));
            gains[side] =
                (mode.diameters == 0 ? mode.volume + (index == 0 ? 0.0 : close) : (reach + close) * turn) * shape;
        }
        // q'' = F - 2 d q' - w^2 q; its pressure goes with q''. Trapezoid rule: stable, and exact enough below fs / 10.
        const double h = 1.0 / sampleRate;
        double position = 0.0;
        double velocity = 0.0;
        double acceleration = 0.0;
        const double denominator = 1.0 + damping * h + 0.25 * omega * omega * h * h;
        for (std::size_t i = 0; i < samples; ++i)
        {
            const double next = (force[i] - 2.0 * damping * (velocity + 0.5 * h * acceleration) -
                                 omega * omega * (position + h * velocity + 0.25 * h * h * acceleration)) /
                                denominator;
            position += h * velocity + 0.25 * h * h * (acceleration + next);
            velocity += 0.5 * h * (acceleration + next);
            acceleration = next;
            heard[0][i] += gains[0] * acceleration;
            heard[1][i] += gains[1] * acceleration;
        }
    }
    double peak = 0.0;
    for (const double value : heard[1]) peak = std::max(peak, std::abs(value));
    for (auto& side : heard)
        for (std::size_t i = 0; i < samples; ++i)
        {
            const double left = static_cast<double>(samples - i) / (0.05 * sampleRate);
            side[i] *= -std::min(1.0, left) / peak; // the stick pushes the head away: above it the air is pulled first
        }
    return heard;
}

double fromDb(double db)
{
    return std::pow(10.0, db / 20.0);
}
} // namespace

Point placeOf(Part part, double depth)
{
    return part == Part::body ? Point{0.0, 0.0, -0.4 * depth} : Point{0.0, 0.0, 0.0};
}

Pattern patternOf(Part part)
{
    switch (part)
    {
    case Part::head:
        return {{0.0, 0.0, 1.0}, 0.2};
    case Part::stick:
        return {{0.0, 0.0, 1.0}, 0.3};
    case Part::body:
        break;
    }
    return {};
}

Drum makeDrum(Sticks sticks, double extended, Random& random)
{
    Drum drum;
    drum.sticks = sticks;
    std::array<double, 2> band{}; // Hz, of the small parts
    switch (sticks)
    {
    case Sticks::hard:
        drum.words = "mid drum, hard sticks";
        drum.fundamental = random.logBetween(95.0, 220.0);
        drum.radius = 0.18 * std::pow(150.0 / drum.fundamental, 0.6) * random.between(0.9, 1.1);
        drum.depth = drum.radius * random.between(0.8, 1.8);
        drum.ring = random.between(0.3, 0.7);
        drum.contact = random.between(0.7e-3, 1.6e-3);
        drum.stickRise = random.between(0.05e-3, 0.2e-3);
        drum.stickDecay = random.between(1e-3, 3e-3);
        drum.stickLow = random.between(600.0, 1500.0);
        drum.stickHigh = random.between(6000.0, 12000.0);
        drum.stickLevel = random.between(0.3, 0.8);
        drum.bodyLevel = random.between(0.25, 0.6);
        drum.bodyDecay = random.between(0.008, 0.04);
        band = {300.0, 8000.0};
        break;
    case Sticks::soft:
        drum.words = "low drum, soft mallets";
        drum.fundamental = random.logBetween(40.0, 70.0);
        drum.radius = 0.4 * std::pow(55.0 / drum.fundamental, 0.6) * random.between(0.9, 1.1);
        drum.depth = drum.radius * random.between(0.8, 1.4);
        drum.ring = random.between(0.5, 1.2);
        drum.contact = random.between(12e-3, 17e-3);
        drum.stickRise = random.between(0.4e-3, 1.2e-3);
        drum.stickDecay = random.between(3e-3, 8e-3);
        drum.stickLow = random.between(250.0, 400.0);
        drum.stickHigh = random.between(1200.0, 3000.0);
        drum.stickLevel = random.between(0.06, 0.16);
        drum.bodyLevel = random.between(0.03, 0.1);
        drum.bodyDecay = random.between(0.015, 0.05);
        band = {150.0, 1500.0};
        break;
    case Sticks::clap:
        drum.words = "clapper at the instrument";
        drum.fundamental = random.between(500.0, 900.0);
        drum.radius = 0.08;
        drum.depth = 0.04;
        drum.ring = 0.05;
        drum.contact = 0.4e-3;
        drum.stickRise = 0.05e-3;
        drum.stickDecay = random.between(1e-3, 3e-3);
        drum.stickLow = random.between(500.0, 900.0);
        drum.stickHigh = random.between(8000.0, 12000.0);
        drum.stickLevel = random.between(1.0, 2.0);
        drum.bodyLevel = random.between(0.2, 0.5);
        drum.bodyDecay = 0.01;
        band = {800.0, 8000.0};
        break;
    }
    for (std::size_t i = 0; i < modes.size(); ++i) drum.modeTuning.push_back(1.0 + 0.04 * random.gauss());
    drum.nearTilt = {-20.0 * extended * extended * random.between(0.5, 1.5), 6.0 * extended * random.gauss()};

    constexpr int count = 10;
    for (int i = 0; i < count; ++i)
    {
        const bool onShell = i >= 6;
        const double angle = 2.0 * pi * random.uniform();
        const double away = drum.radius * (onShell ? 1.0 : std::sqrt(random.uniform()));
        Drum::Spot spot;
        spot.offset = {away * std::cos(angle), away * std::sin(angle), onShell ? -drum.depth * random.uniform() : 0.0};
        spot.low = random.logBetween(band[0], 0.3 * band[1]);
        spot.high = random.logBetween(3.0 * spot.low, std::max(3.5 * spot.low, band[1]));
        spot.level = fromDb(4.0 * random.gauss()) / std::sqrt(double(count));
        spot.nearGain = fromDb(9.0 * extended * random.gauss()); // which way it faces
        spot.farGain = fromDb(9.0 * extended * random.gauss());
        drum.spots.push_back(spot);
    }
    // With nothing extended the small parts sink by 29 dB; fully extended they drown the stick.
    drum.bodyLevel *= fromDb(-29.0 + 33.0 * extended + 12.0 * extended * extended);
    return drum;
}

std::vector<Radiator> strikeDrum(const Drum& drum, Point strike, double level, Point toNear, Point toFar,
                                 double sampleRate, Random& random)
{
    std::vector<Radiator> result;
    auto [nearHead, farHead] = headSound(drum, strike, toNear, toFar, sampleRate, random);
    const double headLevel = level * fromDb(1.5 * random.gauss());
    result.push_back({Part::head, {}, 0.0, headLevel, 0.0, std::move(nearHead)});
    result.push_back({Part::head, {}, 0.0, 0.0, headLevel, std::move(farHead)});

    const double stick = level * drum.stickLevel * fromDb(2.5 * random.gauss());
    result.push_back({Part::stick, strike, 0.0, stick * fromDb(drum.nearTilt[0]), stick,
                      burst(drum.stickLow, drum.stickHigh, drum.stickRise, drum.stickDecay, sampleRate, random)});

    const double speed = random.between(90.0, 180.0); // m/s, of bending waves in head and shell at these frequencies
    for (const Drum::Spot& spot : drum.spots)
    {
        const double gain = level * drum.bodyLevel * spot.level * fromDb(3.0 * random.gauss());
        result.push_back({Part::body, spot.offset, length(spot.offset - strike) / speed,
                          gain * spot.nearGain * fromDb(drum.nearTilt[1]), gain * spot.farGain,
                          burst(spot.low, spot.high, 2.0 * drum.stickRise, drum.bodyDecay * random.between(0.5, 1.5),
                                sampleRate, random)});
    }
    return result;
}
} // namespace tarry::hall
