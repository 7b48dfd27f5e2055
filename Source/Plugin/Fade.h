#pragma once
#include <cmath>
#include <numbers>

namespace tarry
{
/// A gain that moves from one value to another along half a cosine, so that neither end of the way has a corner, which
/// a low note would show as a tick. A change on the way waits for its end, and only the latest is then followed.
class Fade
{
public:
    /// s for any change
    explicit Fade(double duration) : seconds(duration) {}

    void prepare(double sampleRate, double initial) noexcept // [setup]
    {
        frames = seconds * sampleRate;
        from = to = wanted = now = initial;
        done = 0.0;
    }

    /// `atOnce`: without a fade. [audio]
    void setTarget(double value, bool atOnce = false) noexcept
    {
        wanted = value;
        if (atOnce) from = to = now = wanted;
    }

    /// It is there and stays. [audio]
    [[nodiscard]] bool isAt(double value) const noexcept { return now == value && to == value && wanted == value; }

    /// The next sample's gain. [audio]
    float next() noexcept
    {
        if (now == to && to != wanted)
        {
            from = to;
            to = wanted;
            done = 0.0;
        }
        if (now != to)
        {
            done += 1.0;
            const double part = done / (frames + 1.0);
            now = part < 1.0 ? from + (to - from) * (0.5 - 0.5 * std::cos(std::numbers::pi * part)) : to;
        }
        return static_cast<float>(now);
    }

private:
    double seconds, frames = 1.0;
    double from = 0.0, to = 0.0, wanted = 0.0, now = 0.0;
    double done = 0.0; // frames of the way
};
} // namespace tarry
