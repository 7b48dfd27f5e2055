#include "Plugin/Recording.h"

#include <cmath>
#include <numbers>
#include <random>

namespace tarry::test
{
Recording makeRecording(const RecordingPlan& plan)
{
    std::mt19937 random(plan.seed);
    std::normal_distribution<double> noise;
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    const auto samples = [&](double seconds)
    { return static_cast<std::int64_t>(std::llround(seconds * plan.sampleRate)); };

    const auto frames = static_cast<std::size_t>(samples(0.4 * plan.hits + 1.0));
    std::vector<double> dry(frames);
    for (int hit = 0; hit < plan.hits; ++hit)
    {
        const auto start = static_cast<std::size_t>(samples(0.5 + 0.4 * hit + 0.02 * uniform(random)));
        const double level = 0.3 + 0.3 * uniform(random);
        const double pitch = 150.0 + 60.0 * uniform(random);
        for (std::size_t k = 0; start + k < frames; ++k)
        {
            const double t = static_cast<double>(k) / plan.sampleRate;
            if (t > 0.3) break;
            dry[start + k] += level * (noise(random) * 0.5 * std::exp(-t / 0.006) +
                                       std::sin(2.0 * std::numbers::pi * pitch * t) * std::exp(-t / 0.06));
        }
    }

    struct Echo
    {
        std::int64_t delay;
        double gain;
    };
    std::vector<Echo> echoes{{0, 0.1}};
    for (int i = 0; i < 300; ++i)
    {
        const double late = 0.004 + 0.5 * uniform(random);
        echoes.push_back({samples(late), 0.012 * noise(random) * std::exp(-late / 0.2)});
    }
    const double sign = plan.polarity == Polarity::inverted ? -1.0 : 1.0;
    std::vector<double> wet(frames);
    for (const auto& echo : echoes)
        for (std::size_t k = 0; k < frames; ++k)
            if (const auto from = static_cast<std::int64_t>(k) - samples(plan.lag) - echo.delay;
                from >= 0 && from < static_cast<std::int64_t>(frames))
                wet[k] += sign * echo.gain * dry[static_cast<std::size_t>(from)];

    Recording made{plan.sampleRate, {}, {}};
    const auto hear = [&](const std::vector<double>& sound, double hiss)
    {
        std::vector<float> channel(frames);
        for (std::size_t k = 0; k < frames; ++k) channel[k] = static_cast<float>(sound[k] + hiss * noise(random));
        return channel;
    };
    for (int i = 0; i < plan.spotChannels; ++i) made.spot.push_back(hear(dry, 1.0e-5));
    for (int i = 0; i < plan.roomChannels; ++i) made.room.push_back(hear(wet, 1.0e-5));
    return made;
}
} // namespace tarry::test
