#include "Hall/Enclosure.h"

#include "Core/Ground/Acoustics.h"
#include "Hall/Spectra.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tarry::hall
{
namespace
{
constexpr double midFrequency = 700.0; // Hz, between the octaves of 500 Hz and 1 kHz

/// Absorption of the walls against that at mid frequencies: curtains, seats and wood.
double absorptionShape(double hertz)
{
    const double octaves = std::log2(std::max(hertz, 20.0) / midFrequency);
    return std::clamp(1.0 + 0.06 * octaves, 0.75, 1.3);
}

/// Nepers of energy per metre, the m of 4mV.
double airExponent(const Enclosure& hall, double hertz)
{
    return hall.air().absorption(hertz) * std::numbers::ln10 / 10.0;
}

/// 0 before `from`, 1 after `to`, a raised cosine between.
double rise(double t, double from, double to)
{
    const double share = std::clamp((t - from) / (to - from), 0.0, 1.0);
    return 0.5 - 0.5 * std::cos(std::numbers::pi * share);
}

struct Span // s after the impulse
{
    double firstReflection, mirrorFadeFrom, mirrorFadeTo;
};

void addMirrors(std::vector<double>& response, const Enclosure& hall, const std::vector<Image>& images,
                const Pattern& radiation, const Pattern& hearing, double sampleRate, Span span)
{
    const auto size = transformSize(static_cast<std::size_t>((span.mirrorFadeTo + 0.1) * sampleRate) + 128);
    int highest = 0;
    for (const Image& image : images) highest = std::max(highest, image.order);

    const double binWidth = sampleRate / static_cast<double>(size);
    const Spectrum wall = minimumPhase([&](std::size_t bin) { return hall.reflection(binWidth * double(bin)); }, size);
    Spectrum reflected(wall.size(), 1.0); // the walls' filter, once for each reflection
    Spectrum total(wall.size());
    const Air air = hall.air();
    for (int order = 1; order <= highest; ++order)
    {
        std::vector<double> impulses(size);
        double weight = 0.0;
        double path = 0.0;
        for (const Image& image : images)
        {
            if (image.order != order) continue;
            const double time = image.distance / hall.speed();
            const double gain = radiation.gain(image.leaving) * hearing.gain(image.arriving) / image.distance *
                                std::pow(1.0 - hall.scattering, 0.5 * order) *
                                (1.0 - rise(time, span.mirrorFadeFrom, span.mirrorFadeTo));
            addAt(impulses, std::array{1.0}, time * sampleRate, gain);
            weight += gain * gain;
            path += gain * gain * image.distance;
        }
        for (std::size_t bin = 0; bin < wall.size(); ++bin) reflected[bin] *= wall[bin];
        if (weight <= 0.0) continue;
        path /= weight; // images of one order share the air of their mean path
        const Spectrum spectrum = spectrumOf(impulses, size);
        for (std::size_t bin = 0; bin < wall.size(); ++bin)
            total[bin] += spectrum[bin] * reflected[bin] * air.gain(binWidth * double(bin), path);
    }
    const std::vector<double> early = signalOf(total, size);
    for (std::size_t i = 0; i < std::min(early.size(), response.size()); ++i) response[i] += early[i];
}

/// Diffuse field: energy 4 pi c / V exp(-13.8 t / T) per second, against 1 at 1 m (the density of images; equal to
/// Barron and Lee 1988). Of that, what the mirrors do not carry.
void addTail(std::vector<double>& response, const Enclosure& hall, double energyGain, double sampleRate, Span span,
             Random& random)
{
    constexpr double lowest = 125.0; // Hz, octave bands from here up
    const auto size = transformSize(response.size());
    std::vector<double> noise(size);
    const double density = std::sqrt(4.0 * std::numbers::pi * hall.speed() / hall.volume() * energyGain / sampleRate);
    for (double& value : noise) value = density * random.gauss();
    const Spectrum white = spectrumOf(noise, size);

    std::vector<double> share(response.size()); // amplitude of the diffuse part
    const double perWall = std::log(1.0 - hall.scattering) * hall.speed() * hall.surface() / (4.0 * hall.volume());
    for (std::size_t i = 0; i < share.size(); ++i)
    {
        const double t = static_cast<double>(i) / sampleRate;
        const double mirrors = t < span.mirrorFadeTo ? 1.0 - rise(t, span.mirrorFadeFrom, span.mirrorFadeTo) : 0.0;
        const double mirrored = mirrors > 0.0 ? mirrors * mirrors * std::exp(perWall * t) : 0.0; // energy
        share[i] = t < span.firstReflection ? 0.0 : std::sqrt(1.0 - mirrored);
    }

    const int bands = std::max(1, static_cast<int>(std::ceil(std::log2(0.5 * sampleRate / lowest))));
    std::vector<double> place(white.size()); // of each bin among the bands
    for (std::size_t bin = 0; bin < place.size(); ++bin)
    {
        const double hertz = std::max(1.0, static_cast<double>(bin) * sampleRate / static_cast<double>(size));
        place[bin] = std::clamp(std::log2(hertz / lowest), 0.0, static_cast<double>(bands - 1));
    }
    for (int band = 0; band < bands; ++band)
    {
        const double centre = lowest * std::exp2(band);
        Spectrum part(white.size());
        for (std::size_t bin = 0; bin < part.size(); ++bin)
            part[bin] = white[bin] * std::max(0.0, 1.0 - std::abs(place[bin] - band));
        const std::vector<double> coloured = signalOf(part, size);
        const double fall = std::exp(-3.0 * std::numbers::ln10 / (hall.decayTime(centre) * sampleRate));
        double level = 1.0;
        for (std::size_t i = 0; i < response.size(); ++i, level *= fall) response[i] += coloured[i] * share[i] * level;
    }
}
} // namespace

double Pattern::gain(Point direction) const
{
    return 1.0 - lean + lean * dot(axis, direction) / std::max(1e-9, length(direction));
}

double Pattern::meanEnergy() const
{
    return (1.0 - lean) * (1.0 - lean) + lean * lean / 3.0;
}

Air::Air(double celsius, double humidityPercent)
{
    const double kelvin = celsius + 273.15;
    const double t = kelvin / 293.15;
    const double saturation = std::pow(10.0, 4.6151 - 6.8346 * std::pow(273.16 / kelvin, 1.261));
    const double h = humidityPercent * saturation; // molar concentration of water vapour, %
    oxygen = 24.0 + 4.04e4 * h * (0.02 + h) / (0.391 + h);
    nitrogen = (9.0 + 280.0 * h * std::exp(-4.170 * (std::cbrt(1.0 / t) - 1.0))) / std::sqrt(t);
    classical = 1.84e-11 * std::sqrt(t);
    byOxygen = std::pow(t, -2.5) * 0.01275 * std::exp(-2239.1 / kelvin);
    byNitrogen = std::pow(t, -2.5) * 0.1068 * std::exp(-3352.0 / kelvin);
}

double Air::absorption(double hertz) const
{
    const double f2 = hertz * hertz;
    return 8.686 * f2 * (classical + byOxygen / (oxygen + f2 / oxygen) + byNitrogen / (nitrogen + f2 / nitrogen));
}

double Air::gain(double hertz, double metres) const
{
    return std::exp(-absorption(hertz) * metres * std::numbers::ln10 / 20.0);
}

double Enclosure::volume() const
{
    return size.x * size.y * size.z;
}
double Enclosure::surface() const
{
    return 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
}
double Enclosure::speed() const
{
    return speedOfSound(celsius);
}

double Enclosure::reflection(double hertz) const
{
    const double atMid = 24.0 * std::numbers::ln10 * volume() / (speed() * t60) -
                         4.0 * airExponent(*this, midFrequency) * volume(); // m2, -S ln(1 - alpha)
    const double absorbed = 1.0 - std::exp(-std::max(0.0, atMid) / surface());
    return std::sqrt(1.0 - std::min(0.98, absorbed * absorptionShape(hertz)));
}

double Enclosure::decayTime(double hertz) const
{
    const double walls = -2.0 * surface() * std::log(reflection(hertz));
    return 24.0 * std::numbers::ln10 * volume() / (speed() * (walls + 4.0 * airExponent(*this, hertz) * volume()));
}

std::vector<Image> imagesOf(const Enclosure& hall, Point source, Point microphone, double reach)
{
    struct Along // one axis: an image's place, and how often its sound has met the two walls
    {
        double place;
        int order;
        bool mirrored;
    };
    const auto along = [reach](double size, double from, double to)
    {
        std::vector<Along> places;
        const int most = static_cast<int>(std::ceil(reach / (2.0 * size))) + 1;
        for (int n = -most; n <= most; ++n)
        {
            places.push_back({2.0 * n * size + from - to, std::abs(2 * n), false});
            places.push_back({2.0 * n * size - from - to, std::abs(2 * n - 1), true});
        }
        std::erase_if(places, [reach](const Along& one) { return std::abs(one.place) > reach; });
        return places;
    };
    std::vector<Image> images;
    const auto ys = along(hall.size.y, source.y, microphone.y);
    const auto zs = along(hall.size.z, source.z, microphone.z);
    for (const Along& x : along(hall.size.x, source.x, microphone.x))
        for (const Along& y : ys)
            for (const Along& z : zs)
            {
                const Point path{x.place, y.place, z.place};
                if (length(path) > reach) continue;
                // The real source sends out the mirror image of what leaves the image.
                images.push_back({length(path),
                                  x.order + y.order + z.order,
                                  path,
                                  {x.mirrored ? x.place : -x.place, y.mirrored ? y.place : -y.place,
                                   z.mirrored ? z.place : -z.place}});
            }
    return images;
}

std::vector<double> reflectionsOf(const Enclosure& hall, Point source, Pattern radiation, Point microphone,
                                  Pattern hearing, double sampleRate, double seconds, Random& random)
{
    const double direct = length(microphone - source) / hall.speed();
    const double end = direct + 0.12;
    const std::vector<Image> images = imagesOf(hall, source, microphone, end * hall.speed());
    double first = end;
    for (const Image& image : images)
        if (image.order == 1) first = std::min(first, image.distance / hall.speed());

    const Span span{first, direct + 0.06, end};
    std::vector<double> response(static_cast<std::size_t>(seconds * sampleRate));
    addMirrors(response, hall, images, radiation, hearing, sampleRate, span);
    addTail(response, hall, radiation.meanEnergy() * hearing.meanEnergy(), sampleRate, span, random);
    return response;
}
} // namespace tarry::hall
