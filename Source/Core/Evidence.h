#pragma once
#include "Core/AnalysisWindow.h"
#include "Core/Bands.h"
#include "Core/EnergyStep.h"
#include "Core/LagGrid.h"
#include "Core/Response.h"

#include <array>
#include <vector>

namespace tarry
{
/// What one hit says about the lag in one band.
struct BandEvidence
{
    bool heard = false;       ///< the spot's attack shows in this band
    float size = 0.0F;        ///< the spot's step, natural log
    float ownDb = 0.0F;       ///< how much louder the hit is in the spot than anything in the room after it
    float riseDb = 0.0F;      ///< how far the room then rises above the moment before the hit
    std::vector<float> steps; ///< the room's steps (never below 0) at every `stride`-th lag of the grid
};

/// What one hit says about the lag between one spot side and one room channel.
struct PairEvidence
{
    static constexpr int stride = 2; ///< grid points between two steps
    std::array<BandEvidence, bandCount> band;
    std::vector<float> response; ///< at every lag of the grid
};

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
