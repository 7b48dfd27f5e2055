#include "Take.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Pattern;
using hall::Point;
using hall::Random;
constexpr double pi = std::numbers::pi;
constexpr double longest = 2.1; // s, of a response

/// A microphone hisses; a hall's air and its people also rumble, the more the lower.
void addNoise(std::vector<double>& track, double rms, bool ofHall, Random& random)
{
    std::vector<double> noise(track.size());
    double slow = 0.0, slower = 0.0, energy = 0.0;
    for (double& value : noise)
    {
        const double white = random.gauss();
        slow += 0.05 * (white - slow);
        slower += 0.004 * (random.gauss() - slower);
        value = ofHall ? 0.3 * white + 1.5 * slow + 15.0 * slower : white;
        energy += value * value;
    }
    const double gain = rms / std::sqrt(energy / static_cast<double>(noise.size()));
    for (std::size_t i = 0; i < track.size(); ++i) track[i] += gain * noise[i];
}

double peakOf(const std::vector<double>& signal)
{
    double peak = 1e-30;
    for (const double value : signal) peak = std::max(peak, std::abs(value));
    return peak;
}
} // namespace

double fromDb(double decibels)
{
    return std::pow(10.0, decibels / 20.0);
}

double Setup::lag(Point source, std::size_t side) const
{
    return (length(rooms.front().place - source) - length(spots.at(side).place - source)) / space->speed();
}

double Setup::toSpot(Point source) const
{
    return length(spots.front().place - source) / space->speed();
}

Setup setUp(std::shared_ptr<const Space> space, Random& random)
{
    Setup setup;
    const Point size = space->size();
    const double distance = std::min(random.logBetween(3.0, 20.0), size.x - 3.0);
    const Point room{random.between(1.5, size.x - distance - 1.4), size.y * random.between(0.35, 0.65),
                     std::min(random.between(1.4, 6.0), size.z - 0.8)};
    const double height = random.between(0.4, 1.5);
    const double across = std::sqrt(std::max(0.5, distance * distance - (room.z - height) * (room.z - height)));
    const double sideways = std::min(0.5 * across, 0.3 * size.y) * random.between(-1.0, 1.0);
    setup.player = {room.x + std::sqrt(across * across - sideways * sideways), room.y + sideways, height};

    const double axis = random.between(0.0, 2.0 * pi), rise = random.between(0.0, 1.0);
    setup.radiation = {
        {std::sqrt(1.0 - rise * rise) * std::cos(axis), std::sqrt(1.0 - rise * rise) * std::sin(axis), rise},
        random.between(0.0, 0.5)};
    const double near = random.logBetween(0.12, 0.9), around = random.between(0.0, 2.0 * pi);
    const double up = random.between(0.2, 0.9), flat = std::sqrt(1.0 - up * up);
    const Point toSpot{near * flat * std::cos(around), near * flat * std::sin(around), near * up};
    setup.spots = {{setup.player + toSpot, {(-1.0 / near) * toSpot, random.between(0.0, 0.7)}}};
    setup.rooms = {{room, {}}};
    setup.space = std::move(space);
    return setup;
}

Point placeNear(const Setup& setup, Point from, double angle, double away, Random& random)
{
    const Point size = setup.space->size();
    return {std::clamp(from.x + away * std::cos(angle), 0.6, size.x - 0.6),
            std::clamp(from.y + away * std::sin(angle), 0.6, size.y - 0.6), random.between(0.5, 1.4)};
}

std::vector<Stroke> play(const Instrument& instrument, int hits, double from, double beat, Random& random)
{
    std::vector<Stroke> strokes;
    double time = from;
    for (int i = 0; i < hits; ++i)
    {
        const auto hit = static_cast<std::size_t>(random.wholeBetween(0, static_cast<int>(instrument.hits.size()) - 1));
        strokes.push_back({time, hit, fromDb(std::clamp(4.0 * random.gauss(), -8.0, 8.0))});
        time += beat * (1.0 + 0.12 * std::clamp(random.gauss(), -2.0, 2.0));
    }
    return strokes;
}

std::vector<Stroke> playFreely(const Instrument& instrument, int hits, double from, double to, Random& random)
{
    auto strokes = play(instrument, hits, 0.0, 0.0, random);
    const double slot = (to - from) / hits;
    for (int i = 0; i < hits; ++i)
        strokes[static_cast<std::size_t>(i)].time = from + slot * (i + random.between(0.05, 0.95));
    return strokes;
}

std::vector<double> sound(const Instrument& instrument, const std::vector<Stroke>& strokes, double seconds)
{
    std::vector<double> dry(static_cast<std::size_t>(seconds * soundRate));
    for (const auto& stroke : strokes)
        hall::addAt(dry, instrument.hits.at(stroke.hit), stroke.time * soundRate, stroke.gain);
    return dry;
}

Take::Take(double seconds, std::size_t spots, std::size_t rooms)
    : spotCount(spots), frames(static_cast<std::size_t>(seconds * soundRate)),
      size(hall::transformSize(frames + static_cast<std::size_t>(longest * soundRate))),
      tracks(spots + rooms, hall::Spectrum(size / 2 + 1))
{
}

Heard Take::through(const std::vector<std::vector<double>>& responses, const std::vector<double>& dry) const
{
    const auto sent = hall::spectrumOf(dry, size);
    Heard heard;
    for (const auto& response : responses)
    {
        auto& one = heard.emplace_back(hall::spectrumOf(response, size));
        for (std::size_t bin = 0; bin < one.size(); ++bin) one[bin] *= sent[bin];
    }
    return heard;
}

Heard Take::hear(const Setup& setup, Point source, const std::vector<double>& dry, Random& random) const
{
    std::vector<std::vector<double>> responses;
    for (const auto* microphones : {&setup.spots, &setup.rooms})
        for (const auto& microphone : *microphones)
            responses.push_back(setup.space->response(source, setup.radiation, microphone, random));
    return through(responses, dry);
}

void Take::add(const Heard& heard, double gain)
{
    for (std::size_t m = 0; m < tracks.size(); ++m)
        for (std::size_t bin = 0; bin < tracks[m].size(); ++bin) tracks[m][bin] += gain * heard[m][bin];
}

double Take::loudness(const Heard& heard, std::size_t microphone) const
{
    return hall::loudness(heard.at(microphone), soundRate / static_cast<double>(size));
}

void Take::finish(Example& example, const Finish& finish, Random& random) const
{
    struct Peak
    {
        double hertz, quality, gainDb;
    };
    std::vector<Peak> colour;
    for (int i = 0; i < 3; ++i)
        colour.push_back({random.logBetween(70.0, 9000.0), random.between(0.5, 2.0), random.between(-7.0, 7.0)});
    const double spotPeak = random.between(0.3, 0.8), roomPeak = random.between(0.2, 0.7);

    std::vector<std::vector<double>> signals;
    double roomLoudest = 1e-30, spotLoudest = 1e-30;
    for (std::size_t m = 0; m < tracks.size(); ++m)
    {
        auto& signal = signals.emplace_back(hall::signalOf(tracks[m], size));
        signal.resize(frames);
        if (m < spotCount && finish.coloured)
            for (const auto& [hertz, quality, gainDb] : colour) peaking(signal, hertz, quality, gainDb);
        auto& loudest = m < spotCount ? spotLoudest : roomLoudest;
        loudest = std::max(loudest, peakOf(signal));
    }
    for (std::size_t m = 0; m < signals.size(); ++m)
    {
        auto& signal = signals[m];
        const bool spot = m < spotCount;
        for (double& x : signal) x /= spot ? spotLoudest : roomLoudest;
        if (spot && finish.spotOnly) finish.spotOnly(signal);
        addNoise(signal, fromDb(spot ? finish.spotNoiseDb : finish.roomNoiseDb), !spot, random);
        const double level =
            (spot ? spotPeak : roomPeak) / std::max(1.0, peakOf(signal)) * (spot && finish.inverted ? -1.0 : 1.0);
        auto& track = (spot ? example.spot : example.room).emplace_back(signal.size());
        for (std::size_t i = 0; i < signal.size(); ++i) track[i] = static_cast<float>(level * signal[i]);
    }
}

Example begin(const Tier& tier, unsigned seed)
{
    Example example;
    example.family = tier.family;
    example.tier = tier.name;
    example.name = example.tier + " " + std::to_string(seed);
    example.seed = seed;
    example.settings.sampleRate = soundRate;
    return example;
}

void peaking(std::vector<double>& signal, double hertz, double quality, double gainDb)
{
    const double a = std::pow(10.0, gainDb / 40.0), w = 2.0 * pi * hertz / soundRate;
    const double alpha = std::sin(w) / (2.0 * quality), cosine = std::cos(w), norm = 1.0 / (1.0 + alpha / a);
    const double b0 = (1.0 + alpha * a) * norm, b1 = -2.0 * cosine * norm, b2 = (1.0 - alpha * a) * norm;
    const double a2 = (1.0 - alpha / a) * norm;
    double z1 = 0.0, z2 = 0.0;
    for (double& x : signal)
    {
        const double y = b0 * x + z1;
        z1 = b1 * x - b1 * y + z2;
        z2 = b2 * x - a2 * y;
        x = y;
    }
}
} // namespace tarry::bench
