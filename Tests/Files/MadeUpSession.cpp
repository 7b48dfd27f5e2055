#include "Files/MadeUpSession.h"

#include "Core/Ground/Text.h"

#include <array>
#include <cmath>
#include <random>

namespace tarry::test
{
namespace
{
const std::array<const char*, 12> cues{"1m1 Harbour at dusk", "1m2 The long stair", "1m3 Salt road",
                                       "2m1 Lanterns",        "2m2 Ice breaks",     "2m3 Night ferry",
                                       "3m1 The quarry",      "3m2 Low water",      "3m3 Bell tower",
                                       "4m1 Embers",          "4m2 The crossing",   "4m3 Home again"};
struct Drum
{
    const char* name;
    double lag, hertz;
};
const std::array<Drum, 4> drums{{{"side drum", 0.031084123, 900.0},
                                 {"low tom", 0.028671004, 90.0},
                                 {"bass drum", 0.026950817, 48.0},
                                 {"cymbals", 0.033402551, 4200.0}}};

Envelope wave(double attack, double start, double step, double hertz, double level, unsigned seed)
{
    Envelope envelope;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> noise(-1.0, 1.0);
    for (int i = 0; i < 248; ++i)
    {
        double low = 0.0, high = 0.0;
        for (int k = 0; k < 8; ++k)
        {
            const double t = start + (i + k / 8.0) * step - attack;
            const double ring = t < 0.0
                                    ? 0.0
                                    : (1.0 - std::exp(-t / 0.0004)) * std::exp(-t / 0.02) *
                                          (std::sin(6.2832 * hertz * t) + 0.6 * std::exp(-t / 0.004) * noise(random));
            const double sample = level * ring + 0.004 * noise(random);
            low = std::min(low, sample);
            high = std::max(high, sample);
        }
        envelope.low.push_back(low);
        envelope.high.push_back(high);
    }
    return envelope;
}

SessionRow planned(int index)
{
    const auto& drum = drums[static_cast<std::size_t>(index % 4)];
    const auto cue = static_cast<std::size_t>(index / 4) % cues.size();
    SessionRow row;
    row.line = index + 2;
    row.cue = cues[cue];
    row.take = std::to_string(1 + index / 48);
    row.setup = cue < 6 ? "A" : "B";
    row.instrument = drum.name;
    row.spotFile = std::string("audio/") + row.cue + "/" + drum.name + ".wav";
    row.roomFile = std::string("audio/") + row.cue + "/tree.wav";
    row.roomChannel = "left";
    row.spotRate = row.roomRate = index % 12 == 7 ? 96000 : 48000;
    row.spotChannels = 1;
    row.roomChannels = 2;
    row.spotFrames = row.roomFrames = 180LL * row.spotRate;
    row.laidByTimeStamp = index % 3 == 0;
    row.roomStartsAfter = row.laidByTimeStamp ? -0.5 : 0.0;
    return row;
}

LagFigures figuresOf(double lag, std::mt19937& random, bool soft)
{
    std::uniform_real_distribution<double> even(0.0, 1.0);
    LagFigures own;
    own.lag = std::round(1e9 * (lag + (soft ? 1.2e-4 : 2e-5) * (even(random) - 0.5))) / 1e9;
    own.verdict = soft ? Verdict::unsure : Verdict::align;
    own.confidence = soft ? 0.5 + 0.3 * even(random) : 0.95 + 0.0499 * even(random);
    own.hitsFound = 9 + static_cast<int>(20.0 * even(random));
    own.hitsUsed = own.hitsFound - 1;
    own.hitsAgreeing = soft ? own.hitsUsed / 2 : own.hitsUsed;
    own.spread = soft ? 0.00021 : 0.00002;
    own.clearDb = soft ? 7.4 : 21.4;
    own.lowSumNormal = 2.6;
    own.lowSumInverted = -5.0;
    own.attackGainDb = 3.1;
    own.flamBefore = lag;
    own.flamAfter = 0.0;
    own.reasons = {soft ? "Only half of the hits agree on one lag."
                        : std::to_string(own.hitsAgreeing) + " hits agree to within 0.02 ms."};
    return own;
}

void measured(SessionRow& row, int index, std::mt19937& random)
{
    const auto& drum = drums[static_cast<std::size_t>(index % 4)];
    const bool soft = index % 11 == 5;
    row.own = figuresOf(drum.lag + (row.setup == "B" ? 0.0041 : 0.0), random, soft);
    row.pool = row.setup + " \xC2\xB7 " + drum.name;
    row.fromPool = true;
    row.lag = std::round(1e9 * (drum.lag + (row.setup == "B" ? 0.0041 : 0.0))) / 1e9;
    row.againstPool = *row.own.lag - *row.lag;
    row.polarity = index % 4 == 1 ? Polarity::inverted : Polarity::normal;
    row.verdict = Verdict::align;
    row.confidence = 0.9995;
    row.reasons = {"The setup's takes agree; this one profits from them."};
    row.distance = 343.2 * *row.lag;
    row.tape = TapeFigures{*row.distance + 0.3, -0.0009, true, "They agree."};
    row.lowSumNormal = row.polarity == Polarity::normal ? 2.6 : -5.0;
    row.lowSumInverted = row.polarity == Polarity::normal ? -5.0 : 2.6;
    row.decision = Decision::align;
    row.lean = index % 8 == 2 ? 0.008 : 0.0;
    row.decidedBy = "tarry session";
    row.decidedOn = "2026-03-02T04:12:00Z";
    row.print = PrintRecord{"prints/" + row.cue + "/" + drum.name + ".wav",
                            std::string(64, "0123456789abcdef"[index % 16]),
                            row.spotFrames,
                            25'920'044,
                            false,
                            row.lagSamples(),
                            0,
                            "WAV, 24 bit"};
    row.recallLine =
        "Tarry recall 1: version=0.1.0 lag=" + fixed(1e3 * *row.lag, 6) + "ms polarity=" + nameOf(row.polarity) +
        " distance=" + fixed(*row.distance, 2) + "m air=20.0C lean=" + fixed(1e3 * row.lean, 2) +
        "ms whole-samples=no each-side=no hear=aligned reach=80.00ms look-ahead=0.00ms room-late=no room-channel=left"
        " clap=no by-hand=no confidence=0.999 verdict=align trial=none end";
    constexpr double start = -0.012, step = 0.00028;
    const auto seed = static_cast<unsigned>(index);
    const double sign = row.polarity == Polarity::normal ? 1.0 : -1.0;
    row.attack = AttackPicture{start, step, wave(*row.lag, start, step, drum.hertz, 0.1 * sign, seed),
                               wave(0.0, start, step, drum.hertz, 0.7, seed + 1),
                               wave(row.applied().lag, start, step, drum.hertz, 0.7 * sign, seed + 1)};
    for (int hit = 0; hit < 4; ++hit) row.clips.push_back({2.0 + hit, 2.9 + hit});
    if (soft) row.wantsEar = {"This take alone would be unsure; the pool decides."};
}

/// The rows that are not like the others.
void makeSpecial(SessionRow& row, int index)
{
    if (index == 3)
    {
        row.verdict = Verdict::leave;
        row.decision = Decision::leave;
        row.reasons = {"The hits gather at two lags, 4.2 ms apart: several players."};
        row.confidence = 0.61;
        row.print.reset();
        row.wished = Decision::leave;
    }
    if (index == 5)
    {
        row.moved = Moved{0.0021, row.cue, row.take, 61.5,
                          "Since 61.5 s the room is 2.10 ms later: a stand or the microphone moved."};
        row.wantsEar.push_back(row.moved->sentence);
    }
    if (index == 6)
    {
        row.own.driftPpm = 11.84;
        row.own.driftPpmSd = 0.31;
        row.wantsEar.push_back("The machines drift by 11.8 ppm: 2.1 ms over this take.");
    }
    if (index == 9)
    {
        SessionRow failed = planned(index);
        failed.failure = failed.spotFile + ": is cut short, its header promises more than there is: copy it again";
        failed.spotRate = failed.roomRate = 0;
        row = failed;
    }
    if (index == 10)
    {
        row.cue = hostileName;
        row.instrument = std::string("=1+1 \xFF\x01 ") + hostileName;
        row.note = "ends a script </script> and a comment --> ]]>";
        row.print->timeStampOnly = true;
    }
}
} // namespace

int occurrences(const std::string& text, const std::string& part)
{
    int count = 0;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size()) ++count;
    return count;
}

SessionRecord madeUpSession(int rows)
{
    SessionRecord record;
    record.version = "0.1.0";
    record.plan = "lantern-score.csv";
    record.planned = "2026-03-01T20:15:00Z";
    std::mt19937 random(11);
    for (int i = 0; i < rows; ++i)
    {
        auto row = planned(i);
        measured(row, i, random);
        makeSpecial(row, i);
        record.rows.push_back(row);
    }
    for (const char* setup : {"A", "B"})
        for (const auto& drum : drums)
        {
            SetupRecord pool;
            pool.setup = setup;
            pool.instrument = drum.name;
            pool.name = pool.setup + " \xC2\xB7 " + drum.name;
            pool.firstCue = *setup == 'A' ? cues.front() : cues[6];
            pool.lastCue = *setup == 'A' ? cues[5] : cues.back();
            pool.firstTake = pool.lastTake = "1";
            pool.takes = pool.takesAgreeing = 6;
            pool.pooled = figuresOf(drum.lag + (*setup == 'B' ? 0.0041 : 0.0), random, false);
            pool.takesSpread = 0.00003;
            record.setups.push_back(pool);
        }
    record.machines = {{"drum cart", "main machine", 11.84, 0.31, 3, true},
                       {"second cart", "main machine", -0.08, 0.2, 3, false}};
    return record;
}
} // namespace tarry::test
