#include "Editor/MadeUp.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

namespace tarry::test
{
namespace
{
std::string nameOf(Control control)
{
    return std::string(setting(control).id);
}

/// A made-up drum: a stick's noise over a head that rings, from 0 s on.
std::vector<float> strike(std::mt19937& random, double rate, std::size_t frames, std::size_t onset, double ring)
{
    std::normal_distribution<float> noise;
    std::vector<float> wave(frames);
    for (std::size_t i = onset; i < frames; ++i)
    {
        const double t = static_cast<double>(i - onset) / rate;
        wave[i] = static_cast<float>(0.5 * std::exp(-t / 0.0015)) * noise(random) +
                  static_cast<float>(std::exp(-t / 0.020) * std::sin(2.0 * 3.14159265 * ring * t));
    }
    return wave;
}

void drawAttack(Report& report, double lag, bool inverted)
{
    std::mt19937 random(7);
    constexpr double rate = 48000.0, start = -0.12;
    constexpr std::size_t frames = 48 * 360;
    const auto at = [&](double t) { return static_cast<std::size_t>(std::lround((t - start) * rate)); };
    report.spotAttack = {start, 1.0 / rate, strike(random, rate, frames, at(0.0), 190.0)};
    auto room = strike(random, rate, frames, at(lag), 190.0);
    std::normal_distribution<float> noise;
    for (std::size_t i = 0; i < frames; ++i)
    {
        // Reverberation and the hall's own noise.
        if (i > at(lag))
            room[i] +=
                0.35F * noise(random) * static_cast<float>(std::exp(-static_cast<double>(i - at(lag)) / rate / 0.2));
        room[i] = (inverted ? -0.1F : 0.1F) * room[i] + 0.002F * noise(random);
    }
    report.roomAttack = {start, 1.0 / rate, std::move(room)};
}

/// The hit's own waveforms: the drawn attack, the room moved to the hit's own lag.
std::shared_ptr<const HitWaves> wavesOf(const Report& report, double lag)
{
    auto waves = std::make_shared<HitWaves>();
    waves->rate = 1.0 / report.spotAttack.step;
    waves->onset = static_cast<int>(std::lround(-report.spotAttack.start * waves->rate));
    waves->spot.push_back(report.spotAttack.values);
    waves->room.emplace_back(report.roomAttack.values.size());
    const auto moved = std::lround((lag - *report.lag) * waves->rate);
    for (std::size_t i = 0; i < waves->room[0].size(); ++i)
        if (const auto from = static_cast<long>(i) - moved;
            from >= 0 && from < static_cast<long>(waves->room[0].size()))
            waves->room[0][i] = report.roomAttack.values[static_cast<std::size_t>(from)];
    return waves;
}

/// `lags` in ms; a negative weight: not used.
void addHits(Report& report, const std::vector<std::pair<double, double>>& lagsAndWeights, double around)
{
    double time = 0.8;
    double clarity = 13.0;
    for (const auto& [lag, weight] : lagsAndWeights)
    {
        HitReport hit;
        hit.time = time += 1.27;
        hit.lag = lag * 1e-3;
        hit.clearDb = clarity = 9.0 + std::fmod(clarity * 1.7, 13.0);
        hit.weight = std::max(0.0, weight);
        hit.used = weight >= 0.0;
        hit.agreeing = hit.used && std::abs(lag - around) < 0.5;
        if (report.hits.size() != 1) hit.waves = wavesOf(report, *hit.lag); // the second one's are no longer kept
        report.hits.push_back(hit);
    }
    report.hitsFound = static_cast<int>(report.hits.size());
    report.hitsUsed =
        static_cast<int>(std::count_if(report.hits.begin(), report.hits.end(), [](auto& h) { return h.used; }));
    report.hitsAgreeing =
        static_cast<int>(std::count_if(report.hits.begin(), report.hits.end(), [](auto& h) { return h.agreeing; }));
    report.evidence.start = -0.11;
    report.evidence.step = 1e-4;
    report.evidence.values.assign(3200, 0.0F);
    for (std::size_t i = 0; i < report.evidence.values.size(); ++i)
        for (const auto& hit : report.hits)
        {
            const double x = (report.evidence.start + 1e-4 * static_cast<double>(i) - *hit.lag) / 4e-4;
            report.evidence.values[i] += static_cast<float>(hit.weight * std::exp(-0.5 * x * x));
        }
    const float most = *std::max_element(report.evidence.values.begin(), report.evidence.values.end());
    for (auto& v : report.evidence.values) v /= std::max(most, 1e-9F);
}

EditorModel heard(double lagMs, Polarity polarity, double confidence, Verdict verdict, std::vector<std::string> reasons)
{
    EditorModel model;
    auto& report = model.report;
    report.lag = lagMs * 1e-3;
    report.polarity = polarity;
    report.confidence = confidence;
    report.verdict = verdict;
    report.reasons = std::move(reasons);
    report.spread = 2.1e-5;
    report.clearDb = 21.4;
    report.blend = {lagMs * 1e-3, 0.0, 3.1, polarity == Polarity::normal ? 2.6 : -5.0,
                    polarity == Polarity::normal ? -5.0 : 2.6};
    drawAttack(report, lagMs * 1e-3, polarity == Polarity::inverted);
    model.values.hasLag = true;
    model.values.held = Sides::both({lagMs * 1e-3, polarity});
    model.values.freezeWords = "Freeze " + lagText(lagMs * 1e-3, LagUnit::ms, {}).toStdString();
    return model;
}
} // namespace

std::vector<NamedModel> madeUpModels()
{
    std::vector<NamedModel> models;
    models.push_back({"nothing yet", {}});

    auto model = EditorModel{};
    model.report.hitsFound = 1;
    models.push_back({"bare report", model});
    model = {};
    model.report.input = InputState::noRoom;
    models.push_back({"no room", model});
    model.report.input = InputState::sameSignal;
    models.push_back({"same signal", model});
    model.report.input = InputState::ownSignal;
    model.report.hitsFound = 4;
    model.values.names.spot = "Tom 2";
    models.push_back({"own signal", model});

    model = heard(31.084, Polarity::normal, 0.61, Verdict::unsure, {"Only 2 hits so far: play a few more."});
    addHits(model.report, {{31.09, 0.7}, {30.98, 0.9}, {44.1, 0.3}}, 31.084);
    model.values.hasLag = false;
    models.push_back({"measuring", model});

    model = heard(31.084, Polarity::normal, 0.98, Verdict::align,
                  {"8 of 9 hits agree to within 0.1 ms.", "The low end gains 2.6 dB."});
    addHits(model.report,
            {{31.08, 1.0},
             {31.1, 0.8},
             {31.06, 0.9},
             {31.09, 0.95},
             {12.4, 0.2},
             {31.07, 0.5},
             {31.08, 0.7},
             {31.1, 0.6},
             {31.08, 0.9}},
            31.084);
    model.values.phase = Phase::settled;
    models.push_back({"settled", model});
    model.values.phase = Phase::frozen;
    model.values.undoWords = "the freeze at 31.08 ms";
    model.values.redoWords = "the lag by hand";
    model.values.controls.lean = 0.008;
    model.values.controls.blend = true;
    models.push_back({"frozen", model});
    model.values.controls.aligned = false;
    model.values.spotClipped = true;
    model.values.byHand = true;
    model.values.held = Sides::both({0.0305, Polarity::normal});
    model.values.advice = {"This speaks of the measured 31.08 ms, not of the 30.50 ms set by hand."};
    model.values.preset = "Full ensemble";
    model.values.presetChanged = true;
    models.push_back({"by hand, clipped", model});
    model.values.spotClipped = false;
    model.values.offered = Sides::both({0.0253, Polarity::inverted});
    model.values.offerWords = "The last 6 hits say 25.30 ms, inverted; 30.50 ms is held.";
    model.values.renderedUnsettled = true;
    models.push_back({"offered", model});

    model = heard(29.412, Polarity::inverted, 0.93, Verdict::align,
                  {"All 5 hits agree.", "Polarity is inverted: turned over, the low end gains 7.6 dB."});
    addHits(model.report, {{29.41, 1.0}, {29.4, 0.8}, {29.45, 0.9}, {29.38, 0.95}, {29.42, 0.2}}, 29.412);
    model.values.phase = Phase::settled;
    models.push_back({"inverted", model});

    model =
        heard(24.2, Polarity::normal, 0.34, Verdict::leave,
              {"The hits do not share one lag: 5 agree on 24.2 ms, 4 on 37.9 ms.",
               "The spot hears several players at several distances; one lag would sharpen one and blur the rest."});
    addHits(model.report,
            {{24.2, 1.0},
             {24.25, 0.8},
             {37.9, 0.9},
             {37.8, 0.95},
             {24.1, 0.6},
             {37.95, 0.5},
             {24.2, 0.7},
             {38.0, 0.6},
             {24.3, 0.4},
             {52.0, -1.0},
             {8.0, 0.1}},
            24.2);
    model.report.secondCluster = 0.0379;
    model.values.hasLag = false;
    models.push_back({"leave", model});

    model = heard(71.93, Polarity::inverted, 0.18, Verdict::unsure,
                  {"A neighbour is louder in the room than the spot's own hits, so that only 3 of 17 hits agree.",
                   "The next best lag, 43.21 ms, is nearly as likely (92 %).",
                   "The bands disagree on the polarity: the low band says normal, the high bands say inverted.",
                   "The lag drifts by 312.5 ppm: check that both recordings run on the same clock.",
                   "6 hits are too soft against what came before them."});
    addHits(model.report,
            {{71.9, 0.3},
             {43.2, 0.3},
             {12.0, 0.3},
             {71.95, 0.3},
             {60.0, 0.3},
             {21.7, -1},
             {5.5, -1},
             {33.3, 0.2},
             {71.93, 0.2}},
            71.93);
    model.report.hitsFound = 1017;
    model.report.hitsUsed = 1011;
    model.report.hitsAgreeing = 103;
    model.report.runnerUpLag = 0.04321;
    model.report.runnerUpMargin = 0.92;
    model.report.driftPpm = -312.5;
    model.report.driftPpmSd = 104.2;
    model.report.secondCluster = 0.04321;
    model.report.hitsLost = 12;
    models.push_back({"unsure, long reasons", model});

    model = heard(-98.765, Polarity::inverted, 0.91, Verdict::align,
                  {"All 5 hits agree.", "The spot is later than the room."});
    addHits(model.report, {{-98.76, 1.0}, {-98.7, 0.8}, {-98.8, 0.9}, {-98.76, 0.95}, {-98.77, 0.2}}, -98.765);
    model.values.setup.lookAhead = 0.1;
    model.values.phase = Phase::frozen;
    model.values.controls.lean = -0.02;
    model.values.sampleRate = 192000.0;
    models.push_back({"negative, 192 kHz", model});

    model = heard(199.999, Polarity::inverted, 0.999, Verdict::align, {"All 5 hits agree."});
    addHits(model.report, {{199.99, 1.0}, {199.9, 0.8}, {200.0, 0.9}, {199.95, 0.95}, {199.99, 0.2}}, 199.999);
    model.values.sampleRate = 192000.0;
    model.values.controls.reach = 0.2;
    model.values.controls.lean = 0.03;
    model.values.spotChannels = 2;
    model.values.held.side[1].lag = 0.1234;
    for (int side = 0; side < 2; ++side)
        for (int room = 0; room < 2; ++room)
            model.report.pairs.push_back({side, room, 0.1999 - 0.001 * side, Polarity::inverted, 0.97, 20.0});
    model.values.names = {"Surdo 2, close", "Tree, centre", "4m12", "3", ""};
    model.values.locked = true;
    model.values.tapeWords = "68.60 m by the tape take 199.88 ms: that agrees.";
    models.push_back({"longest, each side", model});

    model = {};
    model.values.phase = Phase::frozen;
    model.values.hasLag = model.values.byHand = true;
    model.values.held = Sides::both({0.0123, Polarity::normal});
    model.values.names.spot = "A name that somebody has typed without ever thinking of the width of a window";
    models.push_back({"by hand, nothing measured", model});

    model = heard(46.31, Polarity::normal, 0.004, Verdict::unsure, {"No two hits agree."});
    addHits(model.report, {{46.3, 0.3}, {12.9, 0.3}, {70.1, 0.3}}, 0.0);
    model.values.hasLag = false;
    models.push_back({"no chance", model});
    return models;
}

EditorModel madeUpModel(const std::string& name)
{
    for (auto& named : madeUpModels())
        if (named.name == name) return named.model;
    throw std::invalid_argument("no made-up model named " + name);
}

void MadeUpTarget::begin(Control control)
{
    asked.push_back("begin " + nameOf(control));
}

void MadeUpTarget::end(Control control)
{
    asked.push_back("end " + nameOf(control));
}

void MadeUpTarget::set(Control control, double value)
{
    asked.push_back("set " + nameOf(control) + " " + juce::String(value, 4).toStdString());
    setting(control).set(model.values.controls, value);
    if (control == Control(&Controls::lock)) model.values.locked = value > 0.5;
}

void MadeUpTarget::measure()
{
    asked.emplace_back("measure");
    model.values.phase = Phase::measuring;
}

void MadeUpTarget::freeze()
{
    asked.emplace_back("freeze");
    model.values.phase = Phase::frozen;
}

void MadeUpTarget::setLagByHand(double seconds, bool sameGesture)
{
    asked.push_back((sameGesture ? "same lag " : "lag ") + juce::String(seconds, 6).toStdString());
    model.values.held = Sides::both({seconds, model.values.applied().polarity});
    model.values.hasLag = model.values.byHand = true;
}

void MadeUpTarget::nudge(double seconds)
{
    setLagByHand(model.values.applied().lag + seconds, false);
}

void MadeUpTarget::nudgeSamples(int samples)
{
    setLagByHand(model.values.applied().lag + samples / model.values.sampleRate, false);
}

void MadeUpTarget::setPolarity(Polarity polarity)
{
    asked.emplace_back(polarity == Polarity::normal ? "polarity normal" : "polarity inverted");
    model.values.held = Sides::both({model.values.applied().lag, polarity});
}

juce::StringArray MadeUpTarget::names() const
{
    return {"Hard sticks", "Full ensemble"};
}

juce::String MadeUpTarget::load(int index)
{
    asked.push_back("preset " + std::to_string(index));
    return {};
}

void MadeUpTarget::start(bool preference)
{
    asked.emplace_back(preference ? "trial, preference" : "trial");
    model.trial.running = true;
    model.trial.preference = preference;
    model.trial.yes = preference ? "The first is better" : "The hidden one is aligned";
    model.trial.no = preference ? "The second is better" : "The hidden one is as recorded";
}

void MadeUpTarget::answer(bool a)
{
    asked.emplace_back(a ? "answer A" : "answer B");
    ++model.trial.answered;
}

juce::String MadeUpTarget::screenSetting(const juce::String& key) const
{
    const auto found = screen.find(key);
    return found == screen.end() ? juce::String() : found->second;
}
} // namespace tarry::test
