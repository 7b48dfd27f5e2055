#include "Hall/Scene.h"

#include "Hall/Setting.h"

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

constexpr double leadOut = 0.95; // s after the last, plus a part of the decay

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
        const double perHit = loudness(own[judge], binWidth) / static_cast<double>(setting.player.strokes.size()) /
                              (loudness(heard[judge], binWidth) / static_cast<double>(hits));
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
        all.reserve(std::size(kinds));
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
        recording.tracks[0][bin] *=
            (inverted ? -1.0 : 1.0) * std::polar(1.0, -turn * static_cast<double>(bin) * spotLate);

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
