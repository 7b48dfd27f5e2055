#include "Plugin/TrialRun.h"

#include "Core/Controls/Sides.h"
#include "Core/Ground/Text.h"
#include "Plugin/Engine.h"

#include <cmath>

namespace tarry
{
namespace
{
/// What is held, with lean: the aligned side.
std::optional<Sides> alignedSides(const Engine& engine, const Controls& controls)
{
    const auto held = engine.held();
    return held ? std::optional(leaned(*held, controls.lean)) : std::nullopt;
}

/// "Spot delayed by 31.084 ms, polarity normal; room +0.0 dB in the blend".
std::string comparison(const Sides& sides, const Streams& streams, double roomGain)
{
    const auto words = [](const Alignment& side)
    { return shown(1000.0 * side.lag, 3) + " ms, polarity " + nameOf(side.polarity); };
    auto text = "Spot delayed by " + words(sides.side[0]);
    if (streams.spotChannels > 1 && !(sides.side[1] == sides.side[0]))
        text += ", right side by " + words(sides.side[1]);
    return text + "; room " + shownSigned(20.0 * std::log10(roomGain), 1) + " dB in the blend";
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
    if (!audible) return "No sound device is open: a trial could not be heard.";
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
    details.clear();
    begun = false;
    trial.start(preference, *seed);
    engine.setTrialRuns(true);
    engine.blind().start({sides, controls.wholeSamples, controls.blendGain});
}

void TrialRun::stop()
{
    trial.stop();
    engine.blind().stop();
    engine.setTrialRuns(false);
}

/// A presentation begins with the hidden sound, or with the first of two.
void TrialRun::present()
{
    heardAligned = heardRecorded = false;
    listen(trial.preference() ? TrialSound::a : TrialSound::x, true);
}

void TrialRun::listen(TrialSound sound, bool fresh)
{
    hearing = sound;
    const bool aligned = trial.isAligned(sound);
    if (sound != TrialSound::x) (aligned ? heardAligned : heardRecorded) = true; // hidden, it is neither
    engine.blind().hear(aligned, fresh);
}

void TrialRun::hear(TrialSound sound)
{
    if (!trial.running() || !begun || (trial.preference() && sound == TrialSound::x)) return;
    listen(sound, false);
}

void TrialRun::answer(bool a)
{
    if (!trial.running() || !begun || !heardAligned || !heardRecorded) return;
    trial.answer(a);
    if (!trial.running())
    {
        finish();
        return;
    }
    present();
}

void TrialRun::finish()
{
    result = trial.words();
    details = trial.statistics() + "\n" + circumstances();
    engine.remember("the trial's note", {.settings = {}, .trial = lastShortForm(), .preset = {}});
    setLast(trial.shortForm());
    {
        const std::scoped_lock guard(keptLock);
        kept.push_back(trial.shortForm());
    }
    engine.blind().stop();
    engine.setTrialRuns(false);
}

std::string TrialRun::circumstances() const
{
    auto text = compared;
    if (const auto difference = engine.blind().loudnessDifference())
        text += "; aligned was " + shownSigned(*difference, 1) + " LU before matching";
    return text + "; order " + std::to_string(trial.seed()) + ".";
}

std::string TrialRun::missing() const
{
    if (trial.preference()) return "Hear the second one too."; // the first is where it begins
    if (!heardAligned && !heardRecorded) return "Hear aligned and as recorded too.";
    return heardAligned ? "Hear as recorded too." : "Hear aligned too.";
}

std::vector<std::string> TrialRun::results() const
{
    const std::scoped_lock guard(keptLock);
    return kept;
}

void TrialRun::setResults(const std::vector<std::string>& wanted)
{
    const std::scoped_lock guard(keptLock);
    kept = wanted;
    last = kept.empty() ? std::string() : kept.back();
}

std::string TrialRun::lastShortForm() const
{
    const std::scoped_lock guard(keptLock);
    return last;
}

void TrialRun::setLast(const std::string& shortForm)
{
    const std::scoped_lock guard(keptLock);
    last = shortForm;
}

TrialValues TrialRun::values(const Controls& controls)
{
    auto& sound = engine.blind();
    if (trial.running() && !sound.isRunning())
    {
        trial.stop();
        engine.setTrialRuns(false);
        ended = "The host began its streams anew or loaded a state, which ended the trial: start again.";
    }
    if (trial.running() && !begun && sound.isMatched())
    {
        begun = true;
        present();
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
    now.mayAnswer = now.running && begun && heardAligned && heardRecorded;
    if (now.running && begun && !now.mayAnswer) now.toHear = missing();
    now.yes = trial.preference() ? "The first is better" : "The hidden one is aligned";
    now.no = trial.preference() ? "The second is better" : "The hidden one is as recorded";
    now.result = result;
    now.details = details;
    if (!now.running) now.obstacle = obstacle(controls);
    now.note = ended;
    return now;
}
} // namespace tarry
