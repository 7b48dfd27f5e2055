#pragma once
#include "Core/Decision/HitArrival.h"
#include "Core/Decision/StepStack.h"
#include "Core/Ground/Types.h"

#include <array>
#include <optional>
#include <vector>

namespace tarry
{
/// The response of one band at the arrival.
struct BandArrival
{
    Polarity polarity = Polarity::normal;
    double clear = 0.0; ///< ratio; 0: nothing is heard. See BandSign::clearDb
};

/// The arrival that all hits together show, of one spot side in one room channel.
struct Arrival
{
    std::optional<double> lag;            ///< s; none where no hit shows any
    Polarity polarity = Polarity::normal; ///< the response's sign at the arrival

    double stepLag = 0.0;          ///< s, by energy steps and edges alone
    double height = 0.0;           ///< of the mode over the stack's own noise
    double runnerUpLag = 0.0;      ///< s, the highest other mode
    double runnerUpShare = 0.0;    ///< its height against the winner's, may exceed 1 (a later mode)
    double responseLag = 0.0;      ///< s, the earliest of the response's larger peaks near stepLag
    double responseClear = 0.0;    ///< that value over the rms of what comes before any arrival
    bool refined = false;          ///< the response stands clear and took over from the steps
    std::optional<double> copyLag; ///< s, of the response's one peak, where it has but one: is the room a bare copy?

    std::array<BandArrival, bandCount> bands;
    std::vector<HitArrival> hits;
};

/// Times the arrival at the stack's own mode, by the attack's edges, then by the earliest of the response's larger
/// peaks where that agrees; reads its sign, and asks every hit about it. weights: those that the stack was made with.
/// whole: the response over all lags of the grid, for `copyLag`. Pure.
[[nodiscard]] Arrival arrivalAt(const StepStack::Mode& mode, const std::vector<const PairEvidence*>& hits,
                                const HitWeights& weights, const std::vector<double>& whole, const LagGrid& grid);

/// The same at a lag, s, that the second opinion proposes, timed by the response's peak there. mode: the stack's
/// nearby.
[[nodiscard]] Arrival arrivalAtProposal(double proposed, const StepStack::Mode& mode,
                                        const std::vector<const PairEvidence*>& hits, const HitWeights& weights,
                                        const std::vector<double>& whole, const LagGrid& grid);
} // namespace tarry
