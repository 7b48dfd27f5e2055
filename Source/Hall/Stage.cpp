#include "Hall/Stage.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::hall
{
namespace
{
constexpr double gradientFloor = 25.0; // Hz, below which a close microphone's bass lift goes no further

/// The bass lift of a pressure gradient close to a point: lean c / (j w r) on top (spherical wave), held finite.
std::complex<double> proximity(double lean, double speed, double distance, double omega)
{
    return 1.0 + lean * speed / distance / std::complex<double>(2.0 * std::numbers::pi * gradientFloor, omega);
}

std::complex<double> lowCut(double hertz, double omega)
{
    const std::complex<double> s(0.0, omega);
    return s / (s + 2.0 * std::numbers::pi * hertz);
}

/// Where a microphone stands, seen from the head.
Point towards(const std::vector<Microphone>& microphones, bool close, Point from)
{
    for (const Microphone& microphone : microphones)
        if (microphone.close == close) return microphone.place - from;
    return microphones.front().place - from;
}
} // namespace

double directTime(const Enclosure& hall, const Player& player, const Stroke& stroke, const Microphone& microphone)
{
    return length(microphone.place - player.place - stroke.strike) / hall.speed();
}

std::vector<Spectrum> record(const Enclosure& hall, const Player& player, const std::vector<Microphone>& microphones,
                             double sampleRate, std::size_t size, Random& random)
{
    std::vector<std::vector<double>> direct(microphones.size(), std::vector<double>(size));
    // What each part sends into the hall. Seen from metres away a drum is one thing, which saves two responses.
    const std::size_t parts = player.closeMiked ? allParts.size() : 1;
    std::vector<std::vector<double>> feeds(parts, std::vector<double>(size));

    const Point toFar = towards(microphones, false, player.place);
    const Point toNear = player.closeMiked ? towards(microphones, true, player.place) : toFar;
    for (const Stroke& stroke : player.strokes)
    {
        for (const Radiator& one :
             strikeDrum(player.drum, stroke.strike, stroke.level, toNear, toFar, sampleRate, random))
        {
            const double start = stroke.time + one.delay;
            const Pattern radiation = patternOf(one.part);
            for (std::size_t m = 0; m < microphones.size(); ++m)
            {
                const Microphone& microphone = microphones[m];
                const double heard = player.closeMiked && microphone.close ? one.nearGain : one.farGain;
                if (heard == 0.0) continue;
                const Point path = microphone.place - player.place - one.offset;
                const double gain = heard * radiation.gain(path) * microphone.hearing.gain(-1.0 * path) / length(path);
                addAt(direct[m], one.signal, (start + length(path) / hall.speed()) * sampleRate, gain);
            }
            if (one.farGain != 0.0)
                addAt(feeds[std::min(static_cast<std::size_t>(one.part), parts - 1)], one.signal, start * sampleRate,
                      one.farGain);
        }
    }

    std::vector<Spectrum> sent;
    sent.reserve(parts);
    for (const auto& feed : feeds) sent.push_back(spectrumOf(feed, size));

    const Air air = hall.air();
    std::vector<Spectrum> result;
    for (std::size_t m = 0; m < microphones.size(); ++m)
    {
        const Microphone& microphone = microphones[m];
        const double distance = length(microphone.place - player.place);
        const double binWidth = sampleRate / static_cast<double>(size);
        Spectrum picked = spectrumOf(direct[m], size);
        for (std::size_t bin = 0; bin < picked.size(); ++bin)
        {
            const double hertz = binWidth * static_cast<double>(bin);
            picked[bin] *= air.gain(hertz, distance) *
                           proximity(microphone.hearing.lean, hall.speed(), distance, 2.0 * std::numbers::pi * hertz);
        }
        for (std::size_t part = 0; part < parts; ++part)
        {
            const std::vector<double> response = reflectionsOf(
                hall, player.place + placeOf(allParts[part], player.drum.depth), patternOf(allParts[part]),
                microphone.place, microphone.hearing, sampleRate, hall.t60, random);
            const Spectrum reflected = spectrumOf(response, size);
            const Spectrum& feed = sent[part];
            for (std::size_t bin = 0; bin < picked.size(); ++bin) picked[bin] += feed[bin] * reflected[bin];
        }
        for (std::size_t bin = 0; bin < picked.size(); ++bin)
            picked[bin] *= lowCut(microphone.lowCut, 2.0 * std::numbers::pi * binWidth * static_cast<double>(bin));
        result.push_back(std::move(picked));
    }
    return result;
}
} // namespace tarry::hall
