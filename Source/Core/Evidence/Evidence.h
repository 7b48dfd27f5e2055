#pragma once
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Evidence/BandEnergy.h"
#include "Core/Evidence/Response.h"
#include "Core/Ground/Bands.h"
#include "Core/Ground/LagGrid.h"

#include <array>
#include <vector>

namespace tarry
{
/// What one hit says about the lag in one band.
struct BandEvidence
{
    bool heard = false;       ///< the spot's attack shows in this band
    double size = 0.0;        ///< the spot's step, natural log
    double spotRise = 0.0;    ///< by how much the energy of 8 ms grows at the hit in the spot
    double roomRise = 0.0;    ///< the most by which it grows in the room afterwards
    double riseDb = 0.0;      ///< how far the room's loudest 8 ms stand above the moment before the hit
    std::vector<float> steps; ///< the room's steps (never below 0) at every `stride`-th lag of the grid
    std::vector<float>
        attack; ///< the spot's own steps around its attack, made as noisy as the room's (see Evidence.cpp)

    static constexpr double moment = 0.0005; ///< s
    static constexpr double ahead = 0.012;   ///< s before its attack that the spot is kept from
    /// Mean energy of the moment from each point on, in the upper two bands alone, where attacks are sharp: the spot's
    /// from `ahead` before its attack to 5 ms after it, the room's at every lag of the grid.
    std::vector<float> spotMoments, roomMoments;
    bool fromSilence = false; ///< the spot is digitally silent right before: a gate opens late into the attack

    /// dB by which the hit is louder in the spot than in the room. The player's own hits: about 27 dB at 0.5 m against
    /// 11 m; a neighbour's: far less.
    [[nodiscard]] double ownDb() const { return 10.0 * std::log10((spotRise + 1e-20) / (roomRise + 1e-20)); }
};

/// What one hit says about the lag between one spot side and one room channel.
struct PairEvidence
{
    static constexpr int stride = 2; ///< grid points between two steps
    std::array<BandEvidence, bandCount> band;
    std::array<std::vector<float>, bandCount> response; ///< of each band, at every lag of the grid

    /// By how much the hit raises the spot's energy, all bands together.
    [[nodiscard]] double spotRise() const;

    /// Its bands' steps, weighted and summed. Empty where no band that counts is heard.
    [[nodiscard]] std::vector<double> weightedSteps(const std::array<double, bandCount>& weights) const;
    /// Its bands' responses, weighted and summed.
    [[nodiscard]] std::vector<double> weightedResponse(const std::array<double, bandCount>& weights) const;
};

/// Samples to both sides of the spot's attack that BandEvidence::attack covers, a multiple of the stride.
[[nodiscard]] inline int attackHalf(const LagGrid& grid)
{
    return static_cast<int>(0.0025 * grid.rate) / PairEvidence::stride * PairEvidence::stride;
}

/// Turns hits into evidence. Holds the transforms; one thread at a time.
class EvidenceMeter
{
public:
    explicit EvidenceMeter(const LagGrid& lags) : grid(lags), response(lags) {}

    PairEvidence measure(std::span<const double> spot, std::span<const double> room, int onset);

private:
    LagGrid grid;
    ResponseMeter response;
};
} // namespace tarry
