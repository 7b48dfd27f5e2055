#include "Hall/Scene.h"

#include "Hall/Stage.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace tarry::hall
{
namespace
{
struct Kind
{
    std::string_view name, summary;
};
constexpr std::array<Kind, 11> kinds{{
    {"player", "one player, hard sticks, eight hits"},
    {"low", "a low drum with soft mallets"},
    {"one-hit", "one player, a single hit"},
    {"clap", "a clapper struck once at the instrument"},
    {"roll", "strokes 85 ms apart, hand to hand"},
    {"neighbour", "another drum plays at its own times (--neighbour-db)"},
    {"neighbour-low", "the same, beside a low drum with soft mallets"},
    {"ensemble", "the spot stands in a whole section: there is no one lag"},
    {"unrelated", "spot and room come from different performances in different halls"},
    {"late", "the spot's track is late: it arrives 2 to 15 ms after the room"},
    {"leak", "the spot leaks electrically into the room's track (--leak-db)"},
}};

// Streams of random figures. What is laid out and when it is struck does not depend on the sample rate.
enum Stream : std::uint64_t
{
    layout = 1,
    drums,
    playing,
    sounding,
    noise,
    others = 100,
    elsewhere = 1000
};

constexpr double leadIn = 0.5;   // s before the first hit
constexpr double leadOut = 0.95; // s after the last, plus a part of the decay

double fromDb(double db)
{
    return std::pow(10.0, db / 20.0);
}

void require(bool good, const std::string& what)
{
    if (!good) throw std::invalid_argument(what);
}

void check(const SceneSpec& spec)
{
    if (std::find(sceneNames().begin(), sceneNames().end(), spec.name) == sceneNames().end())
    {
        std::string all;
        for (const std::string& name : sceneNames()) all += (all.empty() ? "" : ", ") + name;
        throw std::invalid_argument("no scene is called '" + spec.name + "'; there are: " + all);
    }
    require(spec.sampleRate >= 8000.0 && spec.sampleRate <= 192000.0, "the rate must be from 8000 to 192000 Hz");
    require(spec.hits >= 1 && spec.hits <= 200, "the hits must be from 1 to 200");
    require(spec.roomChannels >= 1 && spec.roomChannels <= maxRoomChannels, "the room can have 1 to 8 channels");
    require(std::abs(spec.neighbourDb) <= 60.0, "the neighbour's level must be from -60 to 60 dB");
    require(spec.leakDb >= -120.0 && spec.leakDb <= 0.0, "the leak must be from -120 to 0 dB");
    require(spec.roomNoiseDb <= 0.0 && spec.spotNoiseDb <= 0.0, "the noise must be at or below 0 dB");
    require(spec.extended >= 0.0 && spec.extended <= 1.0, "how extended the drum is must be from 0 to 1");
    require(spec.distance == 0.0 || (spec.distance >= 2.0 && spec.distance <= 25.0),
            "the distance must be from 2 to 25 m, or 0 to have it drawn");
    require(spec.t60 == 0.0 || (spec.t60 >= 0.3 && spec.t60 <= 4.0),
            "the reverberation time must be from 0.3 to 4 s, or 0 to have it drawn");
    require(spec.temperature < -273.15 || (spec.temperature >= -20.0 && spec.temperature <= 50.0),
            "the temperature must be from -20 to 50 degrees Celsius");
}

Point onCircle(double angle, double radius, double z = 0.0)
{
    return {radius * std::cos(angle), radius * std::sin(angle), z};
}

/// The hall with one player and the microphones: the spot first, then the room's channels.
struct Setting
{
    Enclosure hall;
    Player player;
    Point strikeZone; ///< m from the middle of the head
    std::vector<Microphone> microphones;
};

Setting makeSetting(const SceneSpec& spec, Sticks sticks, std::uint64_t offset)
{
    Random random(spec.seed, Stream::layout + offset);
    Random drumRandom(spec.seed, Stream::drums + offset);
    Setting setting;

    const double drawnDistance = random.between(5.0, 13.0);
    const double drawnT60 = random.between(1.0, 2.4);
    const double drawnTemperature = random.between(16.0, 26.0);
    const double distance = spec.distance > 0.0 ? spec.distance : drawnDistance;
    Enclosure& hall = setting.hall;
    hall.size.x = std::max(random.between(18.0, 32.0), distance + 6.0);
    hall.size.y = std::max(11.0, hall.size.x * random.between(0.52, 0.75));
    hall.size.z = std::max(6.5, hall.size.x * random.between(0.3, 0.42));
    hall.t60 = spec.t60 > 0.0 ? spec.t60 : drawnT60;
    hall.celsius = spec.temperature >= -273.15 ? spec.temperature : drawnTemperature;
    hall.humidity = random.between(35.0, 60.0);
    hall.scattering = random.between(0.1, 0.25);

    Player& player = setting.player;
    player.drum = makeDrum(sticks, spec.extended, drumRandom);
    const bool section = spec.name == "ensemble";
    player.closeMiked = !section;
    setting.strikeZone =
        onCircle(random.between(0.0, 2.0 * std::numbers::pi), player.drum.radius * random.between(0.2, 0.55));

    // The struck point stands `distance` from room channel 0.
    const Point room{random.between(2.5, hall.size.x - distance - 3.0), hall.size.y * random.between(0.45, 0.55),
                     random.between(2.2, 4.0)};
    const double head = random.between(0.7, 1.2);
    const double flat = std::sqrt(distance * distance - (room.z - head) * (room.z - head));
    const double sideways = std::min(0.35 * flat, 0.25 * hall.size.y) * random.between(-1.0, 1.0);
    const Point struck{room.x + std::sqrt(flat * flat - sideways * sideways), room.y + sideways, head};
    player.place = struck - setting.strikeZone;

    const double spotDistance = section ? random.between(0.9, 1.6) : random.between(0.3, 0.8);
    const double elevation = random.between(25.0, 60.0) * std::numbers::pi / 180.0;
    const Point toSpot = onCircle(random.between(0.0, 2.0 * std::numbers::pi), spotDistance * std::cos(elevation),
                                  spotDistance * std::sin(elevation));
    Microphone spot;
    spot.place = struck + toSpot;
    spot.hearing = {(-1.0 / spotDistance) * toSpot, 0.5};
    spot.lowCut = random.between(20.0, 35.0);
    spot.close = player.closeMiked;
    setting.microphones.push_back(spot);

    const double spacing = random.between(0.4, 1.2);
    const double roomLowCut = random.between(8.0, 20.0);
    for (int channel = 0; channel < spec.roomChannels; ++channel)
    {
        Microphone one; // a row across the hall, channel 0 in the middle
        one.place = room;
        one.place.y += (channel % 2 == 0 ? 0.5 : -0.5) * spacing * (channel + channel % 2);
        one.lowCut = roomLowCut;
        setting.microphones.push_back(one);
    }
    return setting;
}

/// `hits` strokes; no two alike in level or place.
std::vector<Stroke> play(const SceneSpec& spec, int hits, Point zone, Random& random)
{
    const bool roll = spec.name == "roll";
    const double beat = roll ? 0.085 : random.between(0.5, 0.8);
    std::vector<Stroke> strokes;
    double time = leadIn;
    for (int i = 0; i < hits; ++i)
    {
        Stroke stroke;
        stroke.time = time;
        // Within 15 mm of the same point; in a roll each hand has its own, 30 mm apart.
        stroke.strike =
            zone + onCircle(random.between(0.0, 2.0 * std::numbers::pi), 0.015 * std::sqrt(random.uniform()));
        if (roll) stroke.strike.x += i % 2 == 0 ? 0.015 : -0.015;
        stroke.level = fromDb(std::clamp((roll ? 2.0 : 4.0) * random.gauss(), -8.0, 8.0));
        strokes.push_back(stroke);
        time += beat * (1.0 + (roll ? 0.02 : 0.12) * std::clamp(random.gauss(), -2.0, 2.0));
    }
    return strokes;
}

/// A neighbour's strokes, at times of its own between `from` and `to`.
std::vector<Stroke> playAlong(int hits, double radius, double from, double to, Random& random)
{
    const Point zone = onCircle(random.between(0.0, 2.0 * std::numbers::pi), radius * random.between(0.2, 0.55));
    std::vector<Stroke> strokes;
    const double slot = (to - from) / hits;
    for (int i = 0; i < hits; ++i)
    {
        Stroke stroke;
        stroke.time = from + slot * (i + random.between(0.05, 0.95));
        stroke.strike = zone + onCircle(random.between(0.0, 2.0 * std::numbers::pi), 0.02 * random.uniform());
        stroke.level = fromDb(std::clamp(3.0 * random.gauss(), -6.0, 6.0));
        strokes.push_back(stroke);
    }
    return strokes;
}

/// Energy as the ear weighs it: A-weighting (IEC 61672-1, poles at 20.6, 107.7, 737.9 and 12194 Hz). By plain energy a
/// low drum that is 6 dB stronger would drown under its neighbour.
double loudnessOf(const Spectrum& spectrum, double binWidth)
{
    double sum = 0.0;
    for (std::size_t bin = 0; bin < spectrum.size(); ++bin)
    {
        const double f2 = std::pow(binWidth * static_cast<double>(bin), 2.0);
        const double high = 12194.0 * 12194.0;
        const double weight =
            high * f2 * f2 /
            ((f2 + 20.6 * 20.6) * (f2 + high) * std::sqrt((f2 + 107.7 * 107.7) * (f2 + 737.9 * 737.9)));
        sum += std::norm(spectrum[bin]) * weight * weight;
    }
    return sum;
}

void add(std::vector<Spectrum>& total, const std::vector<Spectrum>& more, double gain)
{
    for (std::size_t m = 0; m < total.size(); ++m)
        for (std::size_t bin = 0; bin < total[m].size(); ++bin) total[m][bin] += gain * more[m][bin];
}

Point keptInside(const Enclosure& hall, Point place)
{
    return {std::clamp(place.x, 0.8, hall.size.x - 0.8), std::clamp(place.y, 0.8, hall.size.y - 0.8), place.z};
}

void addNoise(std::vector<float>& track, double rms, bool ofHall, Random& random)
{
    // A hall rumbles: three parts below some 200 Hz to one of hiss. A microphone hisses.
    double low = 0.0;
    std::vector<double> values(track.size());
    double energy = 0.0;
    for (double& value : values)
    {
        const double white = random.gauss();
        low += 0.025 * (random.gauss() - low);
        value = ofHall ? 0.5 * white + 12.0 * low : white;
        energy += value * value;
    }
    const double gain = rms / std::sqrt(energy / static_cast<double>(values.size()));
    for (std::size_t i = 0; i < track.size(); ++i)
        track[i] = static_cast<float>(static_cast<double>(track[i]) + gain * values[i]);
}

/// All the sounds of a scene, before levels and noise.
struct Recording
{
    std::vector<Spectrum> tracks; ///< as Setting::microphones
    std::vector<double> neighbourTimes;
};

Recording recordAll(const SceneSpec& spec, const Setting& setting, std::size_t size, std::uint64_t offset)
{
    Random sounds(spec.seed, Stream::sounding + offset);
    Recording recording{record(setting.hall, setting.player, setting.microphones, spec.sampleRate, size, sounds), {}};
    const bool section = spec.name == "ensemble";
    if (!section && !spec.name.starts_with("neighbour")) return recording;

    Random random(spec.seed, Stream::others + offset);
    const auto own = recording.tracks;
    const double binWidth = spec.sampleRate / static_cast<double>(size);
    const Point spot = setting.microphones.front().place;
    const int count = section ? random.wholeBetween(5, 8) - 1 : 1;
    const double firstAngle = random.between(0.0, 2.0 * std::numbers::pi);
    for (int i = 0; i < count; ++i)
    {
        Player other;
        other.drum = makeDrum(Sticks::hard, spec.extended, random);
        // A section stands all around the spot, so that the lags differ by metres.
        const double angle = firstAngle + (i + random.between(-0.2, 0.2)) * 2.0 * std::numbers::pi / count;
        const double away = section ? random.between(1.0, 3.5) : random.between(1.5, 4.0);
        other.place = keptInside(setting.hall, spot + onCircle(angle, away));
        other.place.z = random.between(0.7, 1.2);
        const double from = setting.player.strokes.front().time - 0.2;
        const double to = setting.player.strokes.back().time + 0.3;
        const int hits = std::max(1, static_cast<int>(setting.player.strokes.size()) + random.wholeBetween(-1, 1));
        other.strokes = playAlong(hits, other.drum.radius, from, to, random);
        const auto heard = record(setting.hall, other, setting.microphones, spec.sampleRate, size, random);

        const std::size_t judge = section ? 0 : 1; // as loud in the spot; or at the asked level in room channel 0
        const double wanted = section ? fromDb(random.between(-2.0, 2.0)) : fromDb(spec.neighbourDb);
        const double perHit = loudnessOf(own[judge], binWidth) / static_cast<double>(setting.player.strokes.size()) /
                              (loudnessOf(heard[judge], binWidth) / static_cast<double>(hits));
        add(recording.tracks, heard, wanted * std::sqrt(perHit));
        for (const Stroke& stroke : other.strokes)
            recording.neighbourTimes.push_back(stroke.time +
                                               directTime(setting.hall, other, stroke, setting.microphones.front()));
    }
    std::sort(recording.neighbourTimes.begin(), recording.neighbourTimes.end());
    return recording;
}

Truth truthOf(const SceneSpec& spec, const Setting& setting, double spotLate)
{
    Truth truth;
    const auto& microphones = setting.microphones;
    const auto& strokes = setting.player.strokes;
    for (std::size_t m = 1; m < microphones.size(); ++m)
    {
        double sum = 0.0;
        for (const Stroke& stroke : strokes)
        {
            const double toSpot = directTime(setting.hall, setting.player, stroke, microphones.front());
            const double lag = directTime(setting.hall, setting.player, stroke, microphones[m]) - toSpot - spotLate;
            sum += lag;
            if (m > 1) continue;
            truth.hitLags.push_back(lag);
            truth.hitTimes.push_back(stroke.time + toSpot + spotLate);
        }
        truth.channelLags.push_back(sum / static_cast<double>(strokes.size()));
    }
    truth.lag = truth.channelLags.front();
    truth.hasOneLag = spec.name != "ensemble" && spec.name != "unrelated";
    const Point struck = setting.player.place + setting.strikeZone;
    truth.distance = length(microphones[1].place - struck);
    truth.spotDistance = length(microphones[0].place - struck);
    truth.temperature = setting.hall.celsius;
    truth.humidity = setting.hall.humidity;
    truth.speedOfSound = setting.hall.speed();
    truth.t60 = setting.hall.t60;
    truth.length = setting.hall.size.x;
    truth.width = setting.hall.size.y;
    truth.height = setting.hall.size.z;
    truth.instrument = setting.player.drum.words;
    return truth;
}

double peakOf(const std::vector<double>& signal)
{
    double peak = 0.0;
    for (const double value : signal) peak = std::max(peak, std::abs(value));
    return peak;
}

/// The first `frames` of each signal, the loudest sample of all of them at `peak`.
std::vector<std::vector<float>> tracksAt(double peak, const std::vector<std::vector<double>>& signals,
                                         std::size_t frames)
{
    double loudest = 1e-30;
    for (const auto& signal : signals) loudest = std::max(loudest, peakOf(signal));
    std::vector<std::vector<float>> tracks;
    for (const auto& signal : signals)
    {
        std::vector<float>& track = tracks.emplace_back(frames);
        for (std::size_t i = 0; i < frames; ++i) track[i] = static_cast<float>(signal[i] * peak / loudest);
    }
    return tracks;
}
} // namespace

const std::vector<std::string>& sceneNames()
{
    static const std::vector<std::string> names = []
    {
        std::vector<std::string> all;
        for (const Kind& kind : kinds) all.emplace_back(kind.name);
        return all;
    }();
    return names;
}

std::string_view sceneSummary(std::string_view name)
{
    for (const Kind& kind : kinds)
        if (kind.name == name) return kind.summary;
    return {};
}

Scene makeScene(const SceneSpec& spec)
{
    check(spec);
    const bool low = spec.name == "low" || spec.name == "neighbour-low";
    const bool clap = spec.name == "clap";
    const int hits = clap || spec.name == "one-hit" ? 1 : spec.hits;

    Random random(spec.seed, Stream::playing);
    Setting setting = makeSetting(spec, low ? Sticks::soft : clap ? Sticks::clap : Sticks::hard, 0);
    setting.player.strokes = play(spec, hits, setting.strikeZone, random);
    const bool inverted = random.coin();
    const double spotPeak = random.between(0.3, 0.8);
    const double roomPeak = random.between(0.2, 0.7);
    const double before = random.between(2e-3, 15e-3); // s, by which the room leads in `late`

    double spotLate = 0.0; // s; a wireless link or a desk further on holds the spot up
    if (spec.name == "late") spotLate = truthOf(spec, setting, 0.0).lag + before;

    const double seconds = setting.player.strokes.back().time + leadOut + 0.3 * setting.hall.t60;
    const auto frames = static_cast<std::size_t>(seconds * spec.sampleRate);
    const auto size = transformSize(frames + static_cast<std::size_t>((setting.hall.t60 + 0.1) * spec.sampleRate));
    Recording recording = recordAll(spec, setting, size, 0);
    if (spec.name == "unrelated")
    {
        SceneSpec elsewhere = spec;
        elsewhere.distance = elsewhere.t60 = 0.0;
        Setting other = makeSetting(elsewhere, Sticks::hard, Stream::elsewhere);
        const double end = setting.player.strokes.back().time + 0.3;
        other.player.strokes =
            playAlong(hits + random.wholeBetween(-1, 1) + 1, other.player.drum.radius, leadIn - 0.2, end, random);
        const auto there = recordAll(elsewhere, other, size, Stream::elsewhere).tracks;
        std::copy(there.begin() + 1, there.end(), recording.tracks.begin() + 1);
    }

    const double turn = 2.0 * std::numbers::pi * spec.sampleRate / static_cast<double>(size);
    for (std::size_t bin = 0; bin < recording.tracks[0].size(); ++bin)
        recording.tracks[0][bin] *= std::polar(inverted ? -1.0 : 1.0, -turn * static_cast<double>(bin) * spotLate);

    std::vector<std::vector<double>> signals;
    for (const Spectrum& track : recording.tracks) signals.push_back(signalOf(track, size));
    Scene scene;
    scene.sampleRate = spec.sampleRate;
    scene.spot = tracksAt(spotPeak, {signals.front()}, frames);
    scene.room = tracksAt(roomPeak, {signals.begin() + 1, signals.end()}, frames);

    Random hiss(spec.seed, Stream::noise);
    addNoise(scene.spot.front(), spotPeak * fromDb(spec.spotNoiseDb), false, hiss);
    for (auto& channel : scene.room) addNoise(channel, roomPeak * fromDb(spec.roomNoiseDb), true, hiss);
    if (spec.name == "leak")
        for (auto& channel : scene.room)
            for (std::size_t i = 0; i < frames; ++i)
                channel[i] += static_cast<float>(fromDb(spec.leakDb)) * scene.spot.front()[i];

    scene.truth = truthOf(spec, setting, spotLate);
    scene.truth.polarity = inverted ? Polarity::inverted : Polarity::normal;
    scene.truth.neighbourTimes = std::move(recording.neighbourTimes);
    return scene;
}
} // namespace tarry::hall
