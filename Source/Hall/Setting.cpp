#include "Hall/Setting.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::hall
{
double fromDb(double db)
{
    return std::pow(10.0, db / 20.0);
}

Point onCircle(double angle, double radius, double z)
{
    return {radius * std::cos(angle), radius * std::sin(angle), z};
}

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
} // namespace tarry::hall
