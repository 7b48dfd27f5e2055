#include "Hall/SessionScore.h"

#include "Hall/Setting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tarry::hall
{
namespace
{
constexpr int cues = 12, cuesOfFirstSetup = 6;
constexpr int movedFromCue = 4, sectionInCue = 12, brokenCue = 9, clicksInCue = 5;
constexpr double movedBy = 0.6;       // m, away from the room microphone
constexpr double driftPpm = 25.0;     // a crystal at its worst (common practice: 10 to 50 ppm)
constexpr double machineEarly = 1.25; // s by which the drifting machine was started before the room's
constexpr double softDb = -26.0;
constexpr double spotPeak = 0.5, roomPeak = 0.35;
constexpr double spotNoiseDb = -72.0, roomNoiseDb = -60.0; // rms, below those peaks

enum Stand
{
    bassDrum,
    sideDrum,
    fieldDrum,
    tom
};

constexpr std::array<const char*, 4> instruments{"bass drum", "side drum", "field drum", "tom"}; // by Stand

constexpr double betweenPhrases = 11.0; // s from the start of one to that of the next
constexpr int phraseHits = 6;

/// Streams of random figures of one stand in one setup, or of one take.
std::uint64_t streamOf(int kind, int one, int other)
{
    return 5000U + static_cast<std::uint64_t>(kind * 1000 + one * 20 + other);
}

void check(const ScoreSpec& spec)
{
    if (!(spec.sampleRate >= 44100.0 && spec.sampleRate <= 192000.0))
        throw std::invalid_argument("the rate of a session must be from 44100 to 192000 Hz");
    if (!(spec.seconds >= 20.0 && spec.seconds <= 600.0))
        throw std::invalid_argument("a session's cues must be from 20 to 600 s long");
}

/// The hall, one stand in it with its spot, and the room microphone: as Setting.
Setting standOf(const ScoreSpec& spec, const ScoreTake& take)
{
    SceneSpec base;
    base.seed = spec.seed;
    base.name = take.section ? "ensemble" : "player";
    base.distance = 9.0;
    base.t60 = 1.6;
    base.temperature = 20.0;
    Setting setting = makeSetting(base, Sticks::hard, 0);
    const int setup = take.setup == "A" ? 0 : 1;
    Random random(spec.seed, streamOf(0, setup, take.stand));
    Player& player = setting.player;
    player.drum = makeDrum(take.stand == bassDrum ? Sticks::soft : Sticks::hard, 0.5, random);
    player.closeMiked = !take.section;
    setting.strikeZone =
        onCircle(random.between(0.0, 2.0 * std::numbers::pi), player.drum.radius * random.between(0.2, 0.55));

    // Four stands side by side across the hall, each at a distance of its own from the room microphone.
    const Point room = setting.microphones[1].place;
    const double head = random.between(0.7, 1.2);
    const double away = random.between(5.5, 9.5) + (take.moved ? movedBy : 0.0);
    const double sideways = (take.stand - 1.5) * 1.6;
    const double flat = std::sqrt(away * away - (room.z - head) * (room.z - head));
    const Point struck{room.x + std::sqrt(flat * flat - sideways * sideways), room.y + sideways, head};
    player.place = struck - setting.strikeZone;

    const double spotDistance = take.section ? random.between(0.9, 1.6) : random.between(0.3, 0.8);
    const double elevation = random.between(25.0, 60.0) * std::numbers::pi / 180.0;
    const Point toSpot = onCircle(random.between(0.0, 2.0 * std::numbers::pi), spotDistance * std::cos(elevation),
                                  spotDistance * std::sin(elevation));
    Microphone& spot = setting.microphones[0];
    spot.place = struck + toSpot;
    spot.hearing = {(-1.0 / spotDistance) * toSpot, 0.5};
    spot.close = player.closeMiked;
    return setting;
}

bool isInverted(const ScoreSpec& spec, const ScoreTake& take)
{
    return Random(spec.seed, streamOf(1, take.setup == "A" ? 0 : 1, take.stand)).coin();
}

void addTo(std::vector<double>& track, const std::vector<double>& phrase, std::ptrdiff_t at)
{
    for (std::size_t i = 0; i < phrase.size(); ++i)
        if (const auto frame = at + static_cast<std::ptrdiff_t>(i);
            frame >= 0 && frame < static_cast<std::ptrdiff_t>(track.size()))
            track[static_cast<std::size_t>(frame)] += phrase[i];
}

/// Scaled so that the loudest sample has the peak, over noise that does not scale.
std::vector<float> finished(const std::vector<double>& signal, double peak, double noise, bool ofHall, Random& random)
{
    double loudest = 1e-30;
    for (const double value : signal) loudest = std::max(loudest, std::abs(value));
    std::vector<float> track;
    track.reserve(signal.size());
    double low = 0.0;
    for (const double value : signal)
    {
        // A hall rumbles below some 200 Hz; a microphone hisses.
        const double white = random.gauss();
        if (ofHall) low += 0.025 * (random.gauss() - low);
        const double hiss = ofHall ? 0.46 * white + 7.9 * low : white;
        track.push_back(static_cast<float>(value * peak / loudest + noise * hiss));
    }
    return track;
}

/// A metronome's click every half second, as a headphone gives it: a short burst at 1.2 kHz.
void addClicks(std::vector<double>& spot, double peak, double sampleRate)
{
    for (double time = 0.31; time * sampleRate < static_cast<double>(spot.size()); time += 0.5)
        for (int i = 0; i < static_cast<int>(0.02 * sampleRate); ++i)
        {
            const double t = i / sampleRate;
            const auto frame = static_cast<std::size_t>(time * sampleRate) + static_cast<std::size_t>(i);
            if (frame < spot.size())
                spot[frame] += peak * std::exp(-t / 0.004) * std::sin(2.0 * std::numbers::pi * 1200.0 * t);
        }
}

/// The players of a take: one, or a section around the spot.
std::vector<Player> playersOf(const Setting& setting, bool section, Random& random)
{
    std::vector<Player> players{setting.player};
    if (!section) return players;
    for (int i = 0; i < 5; ++i)
    {
        Player other = setting.player;
        other.drum = makeDrum(Sticks::hard, 0.5, random);
        other.place = setting.microphones[0].place +
                      onCircle((i + random.between(-0.2, 0.2)) * 0.4 * std::numbers::pi, random.between(1.2, 3.5));
        other.place.x = std::clamp(other.place.x, 0.8, setting.hall.size.x - 0.8);
        other.place.y = std::clamp(other.place.y, 0.8, setting.hall.size.y - 0.8);
        other.place.z = random.between(0.7, 1.2);
        players.push_back(other);
    }
    return players;
}

double peakOf(const std::vector<double>& signal)
{
    double peak = 0.0;
    for (const double value : signal) peak = std::max(peak, std::abs(value));
    return peak;
}
} // namespace

std::vector<ScoreTake> scoreOf(const ScoreSpec& spec)
{
    check(spec);
    std::vector<ScoreTake> takes;
    for (int cue = 1; cue <= cues; ++cue)
        for (int stand = bassDrum; stand <= tom; ++stand)
        {
            ScoreTake take;
            take.cue = cue;
            take.stand = stand;
            take.setup = std::string(1, cue <= cuesOfFirstSetup ? 'A' : 'B');
            take.instrument = instruments[static_cast<std::size_t>(stand)];
            take.soft = cue == 3 || cue == 8;
            take.moved = take.setup == "A" && stand == sideDrum && cue >= movedFromCue;
            take.broken = cue == brokenCue && stand == sideDrum;
            take.clicks = cue == clicksInCue && stand == bassDrum;
            if (take.setup == "B" && stand == tom)
            {
                take.driftPpm = driftPpm;
                take.roomStartsAfter = machineEarly;
            }
            if (cue == sectionInCue && stand == fieldDrum)
            {
                take.section = true;
                take.instrument = "section";
            }
            takes.push_back(take);
        }
    return takes;
}

TakeTracks recordTake(const ScoreSpec& spec, const ScoreTake& take)
{
    check(spec);
    const double rate = spec.sampleRate;
    const Setting setting = standOf(spec, take);
    Random random(spec.seed, streamOf(2, take.cue, take.stand));
    const auto frames = static_cast<std::size_t>(spec.seconds * rate);
    std::vector<double> spot(frames), room(frames);
    TakeTracks tracks;
    double lags = 0.0;

    auto players = playersOf(setting, take.section, random);
    const double clockOfRoom = 1.0 + take.driftPpm * 1e-6;
    const int phrases = std::max(2, static_cast<int>((spec.seconds - 7.0) / betweenPhrases) + 1);
    for (int phrase = 0; phrase < phrases; ++phrase)
    {
        // The last phrase ends with the cue: a drift shows over all of it.
        const double from = take.roomStartsAfter + (spec.seconds - 7.0 - take.roomStartsAfter) * phrase / (phrases - 1);
        const auto at = static_cast<std::ptrdiff_t>(from * rate);
        const double begin = static_cast<double>(at) / rate; // s, on the spot's clock
        for (std::size_t p = 0; p < players.size(); ++p)
        {
            Player& player = players[p];
            SceneSpec playing;
            player.strokes = play(playing, phraseHits, setting.strikeZone, random);
            if (players.size() > 1) player.strokes = playAlong(phraseHits, player.drum.radius, 0.4, 5.0, random);
            const auto onSpot = player.strokes;
            const auto size = transformSize(static_cast<std::size_t>((onSpot.back().time + 2.2) * rate));
            const std::uint64_t sounds = streamOf(3 + phrase + 60 * static_cast<int>(p), take.cue, take.stand);
            Random first(spec.seed, sounds), second(spec.seed, sounds); // the same sounds, on both clocks
            const auto heard = record(setting.hall, player, setting.microphones, rate, size, first);
            for (auto& stroke : player.strokes) stroke.time = (begin + stroke.time) * clockOfRoom - begin;
            const auto heardLater =
                take.driftPpm == 0.0 ? heard : record(setting.hall, player, setting.microphones, rate, size, second);
            addTo(spot, signalOf(heard[0], size), at);
            addTo(room, signalOf(heardLater[1], size), at - std::lround(take.roomStartsAfter * rate));
            for (std::size_t i = 0; i < onSpot.size(); ++i)
            {
                const auto& microphones = setting.microphones;
                lags += player.strokes[i].time - onSpot[i].time +
                        directTime(setting.hall, player, onSpot[i], microphones[1]) -
                        directTime(setting.hall, player, onSpot[i], microphones[0]);
                ++tracks.hits;
            }
        }
    }
    tracks.lag = lags / tracks.hits;
    if (isInverted(spec, take))
    {
        tracks.polarity = Polarity::inverted;
        for (double& value : spot) value = -value;
    }
    if (take.clicks) addClicks(spot, 0.15 * peakOf(spot), rate);
    const double level = take.soft ? fromDb(softDb) : 1.0;
    tracks.spot = finished(spot, level * spotPeak, spotPeak * fromDb(spotNoiseDb), false, random);
    tracks.room = finished(room, level * roomPeak, roomPeak * fromDb(roomNoiseDb), true, random);
    return tracks;
}
} // namespace tarry::hall
