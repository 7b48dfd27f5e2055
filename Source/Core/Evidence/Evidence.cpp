#include "Core/Evidence/Evidence.h"

#include "Core/Ground/Peaks.h"
#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double spotFloor = 1e-5, roomFloor = 1e-4; // shares of the loud stretches: -50 and -40 dB
constexpr double leastStep = 1.0;                    // natural log; a smaller one in the spot is no attack
constexpr double silence = 1e-16;
constexpr double heardRise = 1.5;  // dB by which the room has to grow louder for a sound to be heard in it
constexpr float heardStep = 1.15F; // times the steps that noise and what still rings make

double decibels(double power)
{
    return 10.0 * std::log10(power + 1e-20);
}

constexpr double sharpFrom = 1000.0; // Hz: in bands from here up the attack's edge is timed
constexpr double kept = 0.005;       // s after the spot's attack that its moments are kept to

void keepMoments(BandEvidence& e, const BandEnergy& spot, const BandEnergy& room, const LagGrid& grid, int attack)
{
    const int origin = grid.noise + grid.back;
    const auto steps = [&](double seconds) { return stepsIn(seconds, grid) * PairEvidence::stride; };
    const int moment = static_cast<int>(std::lround(BandEvidence::moment * grid.rate));
    for (int i = -steps(BandEvidence::ahead); i < steps(kept); i += PairEvidence::stride)
        e.spotMoments.push_back(static_cast<float>(spot.moment(attack + i, moment)));
    e.roomMoments.reserve(static_cast<std::size_t>(grid.count / PairEvidence::stride + 1));
    for (int i = 0; i < grid.count; i += PairEvidence::stride)
        e.roomMoments.push_back(static_cast<float>(room.moment(attack - origin + i, moment)));
}

/// Where the spot's attack is, and how it rises.
void findAttack(EvidenceMeter::SpotBand& spot, const LagGrid& grid, int onset)
{
    const auto samples = [&grid](double seconds) { return static_cast<int>(seconds * grid.rate); };
    const BandEnergy& energy = spot.energy;
    spot.floor = energy.loud() * spotFloor + silence;
    spot.attack = energy.largestStep(onset - samples(0.004), onset + samples(0.020), spot.floor);
    spot.size = energy.step(spot.attack, spot.floor);
    double loudest = 0.0; // a soft mallet takes a few periods to its loudest
    for (int i = spot.attack; i < spot.attack + samples(0.030); ++i) loudest = std::max(loudest, energy.level(i));
    spot.rise = std::max(0.0, loudest - energy.level(spot.attack - energy.longStretch()));
}

template <typename BandOfChannel>
std::array<BandEnergy*, bandCount> energiesOf(std::array<BandOfChannel, bandCount>& bands)
{
    std::array<BandEnergy*, bandCount> all{};
    for (std::size_t b = 0; b < bandCount; ++b) all[b] = &bands[b].energy;
    return all;
}

BandEvidence measureBand(const EvidenceMeter::SpotBand& spot, const EvidenceMeter::RoomBand& roomBand,
                         const LagGrid& grid, const Band& band)
{
    constexpr int stride = PairEvidence::stride;
    BandEvidence e;
    e.size = spot.size;
    e.present = spot.size >= leastStep;
    if (!e.present) return e;

    const BandEnergy& room = roomBand.energy;
    const int k = spot.attack, first = k - grid.noise - grid.back, longer = room.longStretch();
    double loudest = 0.0, before = 0.0;
    for (int i = first + grid.noise; i < first + grid.count; i += stride)
    {
        const double level = room.level(i);
        loudest = std::max(loudest, level);
        e.roomRise = std::max(e.roomRise, level - room.level(i - longer));
    }
    for (int i = k - grid.noise; i < k; i += stride) before += room.level(i);
    e.spotRise = spot.rise;
    e.riseDb = decibels(loudest) - decibels(before * stride / grid.noise);
    e.steps = PackedCurve(room.steps(first, grid.count, stride, roomBand.floor));

    // An attack in noise seems to begin later than the same attack in silence. So that both are timed alike, the spot
    // is timed with as much noise, against its loudest, as the room has.
    const double alike = spot.energy.justAfter(k) * std::pow(10.0, -std::clamp(e.riseDb, 3.0, 60.0) / 10.0) + silence;
    const int half = attackHalf(grid);
    e.attack = spot.energy.steps(k - half, 2 * half + 1, stride, alike);
    if (band.low >= sharpFrom) keepMoments(e, spot.energy, room, grid, k);
    return e;
}

/// All bands together; and does the room answer the spot's sound at all? Asked in the bands where the sound is, each as
/// much as it steps up there: the room grows louder at some lag, and its steps stand out of those before the earliest
/// arrival.
void sumUp(PairEvidence& hit, const LagGrid& grid)
{
    constexpr int stride = PairEvidence::stride;
    double weight = 0.0, rise = 0.0;
    std::vector<double> steps(static_cast<std::size_t>((grid.count + stride - 1) / stride), 0.0);
    for (const BandEvidence& e : hit.band)
    {
        if (!e.present) continue;
        const double w = std::min(e.size, 6.0);
        weight += w;
        rise += w * e.riseDb;
        e.steps.addTo(steps, w);
    }
    const auto first = static_cast<std::size_t>(grid.noise / stride);
    for (double& x : steps) x /= std::max(weight, 1e-9);
    hit.noiseStep =
        static_cast<float>(quantile({steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(first)}, 0.98));
    hit.steps.assign(steps.begin(), steps.end());
    hit.largestStep = largestOf(hit.steps, first);
    hit.heard = weight > 0.0 && rise >= heardRise * weight && hit.largestStep >= heardStep * hit.noiseStep;

    std::vector<double> whole;
    hit.addResponse(whole, 1.0);
    const double scale = 1.0 / (rms(whole, grid.noise) + 1e-9);
    hit.answer.assign(hit.steps.size(), 0.0F);
    for (std::size_t i = 0; i < whole.size(); ++i)
    {
        float& cell = hit.answer[std::min(hit.answer.size() - 1, (i + stride / 2) / stride)];
        cell = std::max(cell, static_cast<float>(scale * std::abs(whole[i])));
    }
    hit.largestAnswer = largestOf(hit.answer, first);
}
} // namespace

double PairEvidence::spotRise() const
{
    double sum = 0.0;
    for (const BandEvidence& e : band) sum += e.spotRise;
    return sum;
}

std::vector<double> PairEvidence::weightedSteps(const std::array<double, bandCount>& weights) const
{
    std::vector<double> sum;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        if (!band[b].present || weights[b] <= 0.0) continue;
        sum.resize(band[b].steps.size(), 0.0);
        band[b].steps.addTo(sum, weights[b]);
    }
    return sum;
}

void PairEvidence::addResponse(std::vector<double>& sum, double weight) const
{
    sum.resize(response.front().size(), 0.0);
    for (const PackedCurve& one : response) one.addTo(sum, weight);
}

std::vector<double> PairEvidence::weightedResponse(const std::array<double, bandCount>& weights, int from, int to) const
{
    std::vector<double> sum(static_cast<std::size_t>(to - from), 0.0);
    for (std::size_t b = 0; b < bandCount; ++b)
        if (weights[b] > 0.0) response[b].addTo(sum, weights[b], static_cast<std::size_t>(from));
    return sum;
}

void EvidenceMeter::measure(Spot& result, std::span<const double> x, int onset)
{
    BandEnergy::measure(energiesOf(result.band), x, grid.rate);
    for (SpotBand& band : result.band) findAttack(band, grid, onset);
    response.ofSpot(result.spectrum, x, onset);
}

void EvidenceMeter::measure(Room& result, std::span<const double> x, int onset)
{
    BandEnergy::measure(energiesOf(result.band), x, grid.rate);
    for (RoomBand& band : result.band) band.floor = band.energy.loud() * roomFloor + silence;
    response.ofRoom(result.spectrum, x, onset);
}

PairEvidence EvidenceMeter::pair(const Spot& spot, const Room& room)
{
    PairEvidence evidence;
    for (std::size_t b = 0; b < bandCount; ++b)
        evidence.band[b] = measureBand(spot.band[b], room.band[b], grid, bands[b]);
    const auto responses = response.between(spot.spectrum, room.spectrum);
    std::transform(responses.begin(), responses.end(), evidence.response.begin(),
                   [](const std::vector<float>& one) { return PackedCurve(one); });
    sumUp(evidence, grid);
    return evidence;
}
} // namespace tarry
