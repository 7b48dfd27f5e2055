#pragma once
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Evidence/BandEnergy.h"
#include "Core/Evidence/Response.h"
#include "Core/Ground/Bands.h"
#include "Core/Ground/LagGrid.h"
#include "Core/Ground/PackedCurve.h"

#include <array>
#include <vector>

namespace tarry
{
/// What one hit says about the lag in one band.
struct BandEvidence
{
    bool present = false;  ///< the spot's attack shows in this band
    double size = 0.0;     ///< the spot's step, natural log
    double spotRise = 0.0; ///< by how much the energy of 8 ms grows at the hit in the spot
    double roomRise = 0.0; ///< the most by which it grows in the room afterwards
    double riseDb = 0.0;   ///< how far the room's loudest 8 ms stand above the moment before the hit
    PackedCurve steps;     ///< the room's steps (never below 0) at every `stride`-th lag of the grid
    std::vector<float>
        attack; ///< the spot's own steps around its attack, made as noisy as the room's (see Evidence.cpp)

    static constexpr double moment = 0.0005; ///< s
    static constexpr double ahead = 0.012;   ///< s before its attack that the spot is kept from, to the nearest step
    /// Mean energy of the moment from each point on, in the upper two bands alone, where attacks are sharp: the spot's
    /// from `ahead` before its attack to 5 ms after it, the room's at the lags of `steps`. A moment is so much longer
    /// than the steps between them that a straight line from one to the next is as good as all points.
    std::vector<float> spotMoments, roomMoments;

    /// dB by which the hit is louder in the spot than in the room. The player's own hits: about 27 dB at 0.5 m against
    /// 11 m; a neighbour's: far less.
    [[nodiscard]] double ownDb() const { return 10.0 * std::log10((spotRise + 1e-20) / (roomRise + 1e-20)); }
};

/// What one hit says about the lag between one spot side and one room channel.
struct PairEvidence
{
    static constexpr int stride = 4; ///< grid points between two steps
    std::array<BandEvidence, bandCount> band;
    std::array<PackedCurve, bandCount> response; ///< of each band, at every lag of the grid

    /// The same of all bands together, a value at every `stride`-th lag of the grid: steps, each band's by how much the
    /// spot steps up in it, and the response's magnitude over the rms of what comes before any arrival.
    std::vector<float> steps, answer;
    float noiseStep = 0.0F;                         ///< 98 % of the steps before any arrival stay below
    float largestStep = 0.0F, largestAnswer = 0.0F; ///< from the earliest possible arrival on

    bool heard = false; ///< the room answers: after a click in the headphones it does not. See Evidence.cpp

    /// By how much the hit raises the spot's energy, all bands together.
    [[nodiscard]] double spotRise() const;

    /// Its bands' steps, weighted and summed. Empty where no band that counts is present.
    [[nodiscard]] std::vector<double> weightedSteps(const std::array<double, bandCount>& weights) const;
    /// Adds all bands' responses, times `weight`, to a value for every lag of the grid.
    void addResponse(std::vector<double>& sum, double weight) const;
    /// Its bands' responses, weighted and summed, from grid index `from` to before `to`.
    [[nodiscard]] std::vector<double> weightedResponse(const std::array<double, bandCount>& weights, int from,
                                                       int to) const;
};

/// Samples to both sides of the spot's attack that BandEvidence::attack covers, a multiple of the stride: longer than
/// the lowest band's step rises (8.3 ms).
[[nodiscard]] inline int attackHalf(const LagGrid& grid)
{
    return static_cast<int>(0.0125 * grid.rate) / PairEvidence::stride * PairEvidence::stride;
}

/// Steps of the stride in so many seconds, to the nearest.
[[nodiscard]] inline int stepsIn(double seconds, const LagGrid& grid)
{
    return static_cast<int>(std::lround(seconds * grid.rate / PairEvidence::stride));
}

/// Turns hits into evidence: each channel is analysed once, whatever it is paired with. Holds the transforms; one
/// thread at a time.
class EvidenceMeter
{
public:
    explicit EvidenceMeter(const LagGrid& lags) : grid(lags), response(lags) {}

    /// What a hit shows in one band of the spot, whatever room it is heard in.
    struct SpotBand
    {
        BandEnergy energy;
        int attack = 0;     ///< the sample of its largest step
        double size = 0.0;  ///< that step, natural log
        double floor = 0.0; ///< energy below which nothing steps
        double rise = 0.0;  ///< by how much the energy of 8 ms grows
    };
    struct Spot
    {
        std::array<SpotBand, bandCount> band;
        ResponseMeter::Spectrum spectrum;
    };
    struct RoomBand
    {
        BandEnergy energy;
        double floor = 0.0; ///< energy below which nothing steps
    };
    struct Room
    {
        std::array<RoomBand, bandCount> band;
        ResponseMeter::Spectrum spectrum;
    };
    /// What the result held is overwritten and its memory used again.
    void measure(Spot& result, std::span<const double> x, int onset);
    void measure(Room& result, std::span<const double> x, int onset);
    [[nodiscard]] PairEvidence pair(const Spot& spot, const Room& room);

private:
    LagGrid grid;
    ResponseMeter response;
};
} // namespace tarry
