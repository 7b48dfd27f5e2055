#include "Plugin/TrialRun.h"

#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"
#include "Plugin/Engine.h"

#include <cmath>

namespace tarry
{
namespace
{
/// What is held, with lean: the aligned side.
std::optional<Sides> alignedSides(const Engine& engine, const Controls& controls)
{
    auto sides = engine.held();
    if (sides)
        for (auto& side : sides->side) side.lag = wholeNanoseconds(side.lag + controls.lean);
    return sides;
}

/// "Spot delayed by 31.084 ms, polarity normal; room +0.0 dB in the blend".
std::string comparison(const Sides& sides, const Streams& streams, double roomGain)
{
    const auto words = [](const Alignment& side)
    { return fixed(1000.0 * side.lag, 3) + " ms, polarity " + nameOf(side.polarity); };
    auto text = "Spot delayed by " + words(sides.side[0]);
    if (streams.spotChannels > 1 && !(sides.side[1] == sides.side[0]))
        text += ", right side by " + words(sides.side[1]);
    return text + "; room " + fixedSigned(20.0 * std::log10(roomGain), 1) + " dB in the blend";
}
} // namespace

std::string TrialRun::obstacle(const Controls& controls) const
{
    const auto& streams = engine.shape();
    const auto sides = alignedSides(engine, controls);
    if (!sides) return "There is no lag to try yet: let Tarry measure, or set one by hand.";
    if (streams.roomChannels == 0) return "No room is connected: a trial needs the blend of both.";
    bool same = true;
    for (std::size_t i = 0; i < static_cast<std::size_t>(streams.spotChannels); ++i)
        same = same && sides->side[i] == Alignment{};
    if (same) return "Aligned is the same as recorded here: there is nothing to tell apart.";
    if (controls.bypassed) return "The plugin is bypassed: a trial could not be heard.";
    if (streams.sampleRate < 8000.0) return "The sample rate is too low to measure loudness.";
    return {};
}

void TrialRun::start(bool preference, const Controls& controls, std::optional<std::uint64_t> seed)
{
    if (trial.running() || !obstacle(controls).empty()) return;
    if (!seed)
    {
        std::random_device device;
        seed = (static_cast<std::uint64_t>(device()) << 32U) | device();
    }
    const auto sides = *alignedSides(engine, controls);
    compared = comparison(sides, engine.shape(), controls.blendGain);
    result.clear();
    ended.clear();
    begun = false;
    trial.start(preference, *seed);
    engine.blind().start({sides, controls.wholeSamples, controls.blendGain});
}

void TrialRun::stop()
{
    trial.stop();
    engine.blind().stop();
}

void TrialRun::hear(TrialSound sound)
{
    if (!trial.running() || !begun || (trial.preference() && sound == TrialSound::x)) return;
    hearing = sound;
    engine.blind().hear(trial.isAligned(sound), false);
}

void TrialRun::answer(bool a)
{
    if (!trial.running() || !begun) return;
    trial.answer(a);
    if (!trial.running())
    {
        finish();
        return;
    }
    hearing = trial.preference() ? TrialSound::a : TrialSound::x;
    engine.blind().hear(trial.isAligned(hearing), true);
}

void TrialRun::finish()
{
    result = trial.words() + "\n" + circumstances();
    lastShortForm = trial.shortForm();
    engine.blind().stop();
}

std::string TrialRun::circumstances() const
{
    auto text = compared;
    if (const auto difference = engine.blind().loudnessDifference())
        text += "; aligned was " + fixedSigned(*difference, 1) + " LU before matching";
    return text + "; order " + std::to_string(trial.seed()) + ".";
}

TrialValues TrialRun::values(const Controls& controls)
{
    auto& sound = engine.blind();
    if (trial.running() && !sound.isRunning())
    {
        trial.stop();
        ended = "The host began its streams anew, which ended the trial: start again.";
    }
    if (trial.running() && !begun && sound.isMatched())
    {
        begun = true;
        hearing = trial.preference() ? TrialSound::a : TrialSound::x;
        sound.hear(trial.isAligned(hearing), true);
    }
    TrialValues now;
    now.running = trial.running();
    now.finished = trial.finished();
    now.matching = now.running && !begun;
    now.secondsLeft = now.matching ? static_cast<int>(std::ceil(sound.secondsLeft())) : 0;
    now.preference = trial.preference();
    now.presentations = trial.presentations() > 0 ? trial.presentations() : Trial::usualPresentations;
    now.answered = trial.answered();
    now.hearing = hearing;
    now.result = result;
    if (!now.running) now.obstacle = obstacle(controls);
    now.note = ended;
    return now;
}
} // namespace tarry
