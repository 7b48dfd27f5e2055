#include "Recorded.h"
#include "Hall/Enclosure.h"
#include "Hall/Spectra.h"

#include <algorithm>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Point;
using hall::Random;
constexpr double rate = 44100.0;

double fromDb(double decibels)
{
    return std::pow(10.0, decibels / 20.0);
}

struct Microphone
{
    Point place;
    hall::Pattern hearing;
};

/// Direct sound and the hall's answer to `dry` at `source`. Air is left out: it takes 2 dB at 10 kHz over 11 m.
std::vector<float> record(const hall::Enclosure& hall, const std::vector<double>& dry, Point source,
                          const Microphone& microphone, double noiseDb, Random& random)
{
    const Point path = microphone.place - source;
    std::vector<double> heard(dry.size());
    hall::addAt(heard, dry, length(path) / hall.speed() * rate, microphone.hearing.gain(-1.0 * path) / length(path));

    const auto response =
        hall::reflectionsOf(hall, source, {}, microphone.place, microphone.hearing, rate, hall.t60, random);
    const auto size = hall::transformSize(dry.size() + response.size());
    auto reflected = hall::spectrumOf(dry, size);
    const auto answer = hall::spectrumOf(response, size);
    for (std::size_t k = 0; k < reflected.size(); ++k) reflected[k] *= answer[k];
    const auto room = hall::signalOf(reflected, size);

    double peak = 0.0;
    for (std::size_t i = 0; i < heard.size(); ++i)
    {
        heard[i] += room[i];
        peak = std::max(peak, std::abs(heard[i]));
    }
    std::vector<float> track(heard.size());
    for (std::size_t i = 0; i < track.size(); ++i)
        track[i] = static_cast<float>(0.7 * (heard[i] / peak + fromDb(noiseDb) * random.gauss()));
    return track;
}
} // namespace

Trial playRecorded(const std::vector<DryDrum>& drums, unsigned seed)
{
    Random random(seed, 0);
    const auto& drum = drums[seed % drums.size()]; // every drum in turn

    hall::Enclosure hall;
    hall.size = {random.between(18.0, 32.0), random.between(11.0, 20.0), random.between(6.5, 12.0)};
    hall.t60 = random.between(1.0, 2.4);
    hall.celsius = random.between(16.0, 26.0);
    const double distance = std::min(random.between(5.0, 13.0), hall.size.x - 6.0);
    const Point room{random.between(2.5, hall.size.x - distance - 3.0), hall.size.y * random.between(0.4, 0.6),
                     random.between(2.2, 4.0)};
    const double height = random.between(0.7, 1.2);
    const double flat = std::sqrt(distance * distance - (room.z - height) * (room.z - height));
    const Point source{room.x + flat, room.y, height};
    const double angle = random.between(0.0, 2.0 * std::numbers::pi), near = random.between(0.3, 0.8);
    const Point toSpot{0.7 * near * std::cos(angle), 0.7 * near * std::sin(angle), std::sqrt(0.51) * near};
    const Microphone spot{source + toSpot, {(-1.0 / near) * toSpot, 0.5}};

    Trial trial;
    std::vector<double> dry(static_cast<std::size_t>(8.0 * rate));
    double time = 0.6;
    for (int i = 0; i < 8; ++i)
    {
        const auto hit = static_cast<std::size_t>(random.wholeBetween(0, static_cast<int>(drum.hits.size()) - 1));
        hall::addAt(dry, drum.hits[hit], time * rate, fromDb(random.between(-6.0, 0.0)));
        trial.hitTimes.push_back(time + near / hall.speed());
        time += random.between(0.5, 0.9);
    }
    trial.spot = {record(hall, dry, source, spot, -72.0, random)};
    trial.room = {record(hall, dry, source, {room, {}}, -58.0, random)};
    trial.polarity = random.coin() ? Polarity::inverted : Polarity::normal;
    if (trial.polarity == Polarity::inverted)
        for (float& x : trial.spot.front()) x = -x;
    trial.lag = (distance - near) / hall.speed();
    trial.tier = "recorded";
    trial.name = drum.name + " " + std::to_string(seed);
    trial.seed = seed;
    trial.settings.sampleRate = rate;
    return trial;
}
} // namespace tarry::bench
