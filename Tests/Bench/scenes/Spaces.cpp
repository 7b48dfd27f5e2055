#include "Hall/Spectra.h"
#include "Sounds.h"
#include "Space.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Point;
using hall::Random;
constexpr double pi = std::numbers::pi;

class HallSpace : public Space
{
public:
    explicit HallSpace(Random& random)
    {
        hall.size = {random.between(12.0, 40.0), random.between(9.0, 24.0), random.between(5.0, 14.0)};
        hall.t60 = random.between(0.6, 3.0);
        hall.celsius = random.between(12.0, 30.0);
        hall.humidity = random.between(25.0, 75.0);
        hall.scattering = random.between(0.03, 0.5);
    }
    double speed() const override { return hall.speed(); }
    double t60() const override { return hall.t60; }
    Point size() const override { return hall.size; }

    std::vector<double> response(Point source, hall::Pattern radiation, const Microphone& microphone,
                                 Random& random) const override
    {
        auto whole = hall::reflectionsOf(hall, source, radiation, microphone.place, microphone.hearing, soundRate,
                                         std::min(hall.t60, 2.0), random);
        const Point path = microphone.place - source;
        const double gain = radiation.gain(path) * microphone.hearing.gain(-1.0 * path) / length(path);
        hall::addAt(whole, std::array{1.0}, length(path) / speed() * soundRate, gain);
        return whole;
    }

private:
    hall::Enclosure hall;
};

/// First-order low-pass, in place, its corner in Hz drawn from `corner(sample)`.
template <typename Corner>
void lowPass(std::vector<double>& signal, Corner corner)
{
    double kept = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i)
    {
        const double share = 1.0 - std::exp(-2.0 * pi * std::min(corner(i), 0.45 * soundRate) / soundRate);
        kept += share * (signal[i] - kept);
        signal[i] = kept;
    }
}

class OtherSpace : public Space
{
public:
    explicit OtherSpace(Random& random)
        : dimensions{random.between(12.0, 45.0), random.between(9.0, 28.0), random.between(5.0, 16.0)},
          seconds(random.between(0.7, 3.2)), celsius(random.between(12.0, 30.0)),
          roughness(random.between(0.02e-3, 0.8e-3)), bassRatio(random.between(0.9, 1.6)),
          treble(random.between(2500.0, 7000.0)), floorGain(random.between(0.2, 0.9)),
          liveliness(random.between(0.4, 0.95))
    {
    }
    double speed() const override { return 331.3 * std::sqrt(1.0 + celsius / 273.15); }
    double t60() const override { return seconds; }
    Point size() const override { return dimensions; }

    std::vector<double> response(Point source, hall::Pattern radiation, const Microphone& microphone,
                                 Random& random) const override
    {
        const Point path = microphone.place - source;
        const double distance = length(path), direct = distance / speed();
        std::vector<double> whole(static_cast<std::size_t>(std::min(seconds, 2.0) * soundRate));

        // The direct sound: behind and beside the instrument its treble is weaker, though it comes no later.
        std::vector<double> first(static_cast<std::size_t>((direct + 0.01) * soundRate));
        const double hears = microphone.hearing.gain(-1.0 * path);
        hall::addAt(first, std::array{1.0}, direct * soundRate, hears / distance);
        const double away = 0.5 - 0.5 * dot(radiation.axis, path) / distance; // 0 in front, 1 behind
        auto dull = first;
        lowPass(dull, [](std::size_t) { return 1800.0; });
        const double bright = 1.0 - 0.7 * away * std::min(1.0, 2.0 * radiation.lean);
        for (std::size_t i = 0; i < first.size(); ++i) whole[i] += bright * first[i] + (1.0 - bright) * dull[i];

        const double gap = addEarly(whole, source, microphone, hears, random);
        addLate(whole, direct, gap, microphone.hearing.meanEnergy(), random);
        const double air = 60000.0 / std::sqrt(1.0 + distance); // Hz: 15 kHz at 15 m
        lowPass(whole, [air](std::size_t) { return air; });
        return whole;
    }

private:
    Point dimensions;
    double seconds, celsius, roughness, bassRatio, treble, floorGain, liveliness;

    /// One reflection: smeared over `roughness` and dulled.
    static void addCluster(std::vector<double>& whole, double time, double gain, double smear, double corner,
                           Random& random)
    {
        std::vector<double> cluster(static_cast<std::size_t>(8.0 * smear * soundRate) + 64);
        const int taps = 1 + static_cast<int>(smear * 20000.0);
        for (int t = 0; t < taps; ++t)
            hall::addAt(cluster, std::array{1.0},
                        32.0 + (t == 0 ? 0.0 : -smear * std::log(1.0 - 0.95 * random.uniform())) * soundRate,
                        1.0 / std::sqrt(taps) * (t == 0 ? 1.0 : random.between(0.3, 1.4)));
        lowPass(cluster, [corner](std::size_t) { return corner; });
        hall::addAt(whole, cluster, time * soundRate - 32.0, gain);
    }

    /// s from the direct sound to the first reflection.
    double addEarly(std::vector<double>& whole, Point source, const Microphone& microphone, double hears,
                    Random& random) const
    {
        const double distance = length(microphone.place - source), direct = distance / speed();
        const Point under{source.x, source.y, -source.z};
        const double floor = length(microphone.place - under);
        addCluster(whole, floor / speed(), floorGain * hears / floor, roughness, random.between(4000.0, 14000.0),
                   random);
        double first = floor / speed() - direct;

        // By 80 ms a few dozen have come; the rate grows as t².
        const double volume = dimensions.x * dimensions.y * dimensions.z;
        const double c3 = speed() * speed() * speed();
        double time = direct;
        while (true)
        {
            const double rate = std::max(60.0, 4.0 * pi * c3 * time * time / volume * 0.5);
            time += -std::log(1.0 - random.uniform()) / std::min(rate, 1200.0) + 0.3e-3;
            if (time > direct + 0.08) break;
            const double metres = time * speed();
            const double later = time - direct;
            addCluster(whole, time, liveliness * random.between(0.4, 1.0) / metres, roughness * (1.0 + later / 0.02),
                       random.between(2000.0, 12000.0), random);
            first = std::min(first, later);
        }
        return first;
    }

    void addLate(std::vector<double>& whole, double direct, double gap, double hearing, Random& random) const
    {
        // Diffuse energy 16 pi / A, A = 0.161 V / T (Sabine), spread over exp(-13.8 t / T).
        const double volume = dimensions.x * dimensions.y * dimensions.z;
        const double energy = 16.0 * pi * seconds / (0.161 * volume) * hearing;
        const double perSample = energy * 13.8 / seconds / soundRate;
        const double mixing = std::sqrt(volume) * 1e-3 * 2.0; // s, twice the usual sqrt(V) ms
        for (const bool bass : {false, true})
        {
            const double t60 = seconds * (bass ? bassRatio : 1.0);
            std::vector<double> noise(whole.size());
            for (double& value : noise) value = std::sqrt(perSample) * random.gauss();
            const auto corner = [&](std::size_t i) {
                return bass ? 350.0
                            : treble * (1.0 + 2.0 * std::exp(-static_cast<double>(i) / soundRate / (0.25 * t60)));
            };
            auto low = noise;
            lowPass(low, [](std::size_t) { return 350.0; });
            lowPass(noise, corner);
            for (std::size_t i = 0; i < whole.size(); ++i)
            {
                const double t = static_cast<double>(i) / soundRate, later = t - direct - gap;
                if (later < 0.0) continue;
                const double grown = std::min(1.0, later / mixing);
                whole[i] += (bass ? low[i] : noise[i] - low[i]) * grown * std::exp(-6.9 * t / t60);
            }
        }
    }
};
} // namespace

std::shared_ptr<const Space> makeHallSpace(Random& random)
{
    return std::make_shared<HallSpace>(random);
}

std::shared_ptr<const Space> makeOtherSpace(Random& random)
{
    return std::make_shared<OtherSpace>(random);
}
} // namespace tarry::bench
