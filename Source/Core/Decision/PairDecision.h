#pragma once
#include "Core/Decision/Agreement.h"
#include "Core/Decision/Candidates.h"
#include "Core/Decision/Confidence.h"
#include "Core/Evidence/SumFigures.h"

#include <vector>

namespace tarry
{
/// What is known of one spot side in one room channel, hit by hit.
struct PairHits
{
    std::vector<const PairEvidence*> evidence;
    std::vector<BlendHit> waves; ///< of the hits from `firstWave` on
    std::size_t firstWave = 0;
    std::vector<double> response; ///< of all hits, over all lags of the grid, by loudness
};

/// What is decided about one spot side in one room channel.
struct PairDecision
{
    Arrival arrival;
    Polarity polarity = Polarity::normal; ///< to apply: the arrival's sign, or on a low drum what keeps its low end
    bool signsDisagree = false;           ///< the arrival's sign and the low end ask for different polarities
    double lowShare = 0.0;                ///< 0 to 1: how much of the spot's attack lies below 250 Hz
    BlendFigures sum;                     ///< of spot and room with lag and polarity applied
    int unheard = 0;                      ///< hits that the room does not answer: see heardHits
    Agreement agreement;
    std::vector<Candidate> candidates; ///< in order of lag
    std::vector<double> probabilities; ///< of the candidates, by the second opinion
    Features judgedBy;
    double confidence = 0.0; ///< 0 to 1
    std::vector<float>
        evidence; ///< height over lag, largest 1, at every PairEvidence::stride-th lag from grid.noise on
};

/// Decides, in this order: which lag, how it is timed, which polarity, how sure. clap: on claps alone. Pure: the same
/// evidence, the same decision.
[[nodiscard]] PairDecision decide(const PairHits& all, const LagGrid& grid, bool clap);
} // namespace tarry
