#pragma once

#include "Core/Ground/Types.h"
#include "Files/Fixtures.h"
#include "Support/Process.h"

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

/// A take of a drum, known at every instant, so that spot and room can be made at any rate and any fraction of a
/// sample.
namespace tarry::test
{
/// The drum: a low shell and thirty partials of stick noise, starting dead on time, a little different each hit.
class Take
{
public:
    explicit Take(unsigned seed, int hits = 6) : hitCount(hits)
    {
        std::mt19937 engine(seed);
        std::uniform_real_distribution<double> even(0.0, 1.0);
        for (int hit = 0; hit < hits; ++hit)
            for (int i = 0; i < 30; ++i)
                partials.push_back({hit, 300.0 * std::pow(25.0, even(engine)), 6.283 * even(engine), even(engine)});
    }

    [[nodiscard]] double seconds() const { return 0.5 + 0.7 * hitCount + 0.5; }
    [[nodiscard]] double timeOf(int hit) const { return 0.5 + 0.7 * hit; }

    /// The pressure at `seconds`, peak about 0.5. drift: by what share of its time each hit comes later still, as where
    /// the recorder's clock is slow.
    [[nodiscard]] std::vector<double> at(int rate, double lag, double gain, double drift = 0.0) const
    {
        std::vector<double> samples(static_cast<std::size_t>(seconds() * rate));
        for (const auto& partial : partials)
            add(samples, rate, timeOf(partial.hit) * (1.0 + drift) + lag, gain, partial);
        for (int hit = 0; hit < hitCount; ++hit) addShell(samples, rate, timeOf(hit) * (1.0 + drift) + lag, gain);
        std::mt19937 engine(static_cast<unsigned>(1000.0 * std::abs(lag)) + 1);
        std::normal_distribution<double> noise(0.0, 1e-4);
        for (double& sample : samples) sample += noise(engine);
        return samples;
    }

private:
    struct Partial
    {
        int hit;
        double hertz, phase, level;
    };

    static void add(std::vector<double>& samples, int rate, double start, double gain, const Partial& partial)
    {
        const auto first = static_cast<std::size_t>(std::ceil(start * rate));
        const std::size_t last = std::min(samples.size(), first + static_cast<std::size_t>(0.06 * rate));
        for (std::size_t i = first; i < last; ++i)
        {
            const double t = static_cast<double>(i) / rate - start;
            const double rise = 1.0 - std::exp(-t / 1e-4);
            samples[i] += gain * 0.05 * partial.level * rise * std::exp(-t / 0.008) *
                          std::sin(2.0 * std::numbers::pi * partial.hertz * t + partial.phase);
        }
    }

    static void addShell(std::vector<double>& samples, int rate, double start, double gain)
    {
        const auto first = static_cast<std::size_t>(std::ceil(start * rate));
        const std::size_t last = std::min(samples.size(), first + static_cast<std::size_t>(0.4 * rate));
        for (std::size_t i = first; i < last; ++i)
        {
            const double t = static_cast<double>(i) / rate - start;
            samples[i] += gain * 0.3 * std::exp(-t / 0.08) * std::sin(2.0 * std::numbers::pi * 140.0 * t);
        }
    }

    int hitCount;
    std::vector<Partial> partials;
};

/// The room hears the take `lag` later, softer, turned over if asked, among a few reflections.
inline std::vector<double> roomOf(const Take& take, int rate, double lag, Polarity polarity = Polarity::normal,
                                  double drift = 0.0)
{
    const double sign = polarity == Polarity::normal ? 1.0 : -1.0;
    auto room = take.at(rate, lag, 0.10 * sign, drift);
    const std::vector<std::pair<double, double>> reflections{{0.0063, 0.07}, {0.0171, -0.05}, {0.0338, 0.04}};
    for (const auto& [later, gain] : reflections)
    {
        const auto reflection = take.at(rate, lag + later, gain * sign, drift);
        for (std::size_t i = 0; i < room.size(); ++i) room[i] += reflection[i];
    }
    return room;
}

/// Channels side by side, as a file holds them.
inline std::vector<double> interleave(const std::vector<std::vector<double>>& channels)
{
    std::vector<double> samples;
    samples.reserve(channels.size() * channels.front().size());
    for (std::size_t i = 0; i < channels.front().size(); ++i)
        for (const auto& channel : channels) samples.push_back(channel[i]);
    return samples;
}

inline constexpr int floatWav = SF_FORMAT_WAV | SF_FORMAT_FLOAT;

/// Runs the built command.
inline ProcessResult tarryCommand(std::vector<std::string> arguments)
{
    arguments.insert(arguments.begin(), TARRY_COMMAND);
    return runProgram(arguments);
}

inline bool isOneLine(const std::string& text)
{
    return !text.empty() && text.find('\n') == text.size() - 1;
}

inline std::size_t filesIn(const std::filesystem::path& folder)
{
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(folder), {}));
}
} // namespace tarry::test
