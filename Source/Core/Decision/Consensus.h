#pragma once
#include "Core/Decision/Opinion.h"
#include "Core/Evidence/Evidence.h"
#include "Core/Ground/Types.h"

#include <array>
#include <optional>
#include <vector>

namespace tarry
{
/// The response of one band at the arrival.
struct BandOpinion
{
    Polarity polarity = Polarity::normal;
    double clear = 0.0; ///< ratio; 0: nothing is heard. See BandSign::clearDb
};

/// What all hits together say about one spot side and one room channel.
struct Agreed
{
    std::optional<double> lag;            ///< s
    Polarity polarity = Polarity::normal; ///< the response's sign at the arrival

    double stepLag = 0.0;          ///< s, by energy steps and edges alone
    double height = 0.0;           ///< of the winning mode over the stack's own noise
    double responseLag = 0.0;      ///< s, the response's largest value near stepLag
    double responseClear = 0.0;    ///< that value over the rms of what comes before any arrival
    double responseLead = 0.0;     ///< that value over the next largest within a millisecond
    bool refined = false;          ///< the response stands clear and took over from the steps
    std::optional<double> copyLag; ///< s, of the response's one peak, where it has but one: is the room a bare copy?
    bool crowd = false;            ///< neighbours are heard
    double weight = 0.0;           ///< hits' weights summed
    double runnerUpLag = 0.0;      ///< s, the highest other mode
    double runnerUpShare = 0.0;    ///< its height against the winner's, may exceed 1 (a later mode)

    std::vector<float>
        evidence; ///< height over lag, largest 1, at every PairEvidence::stride-th lag from grid.noise on
    std::array<BandOpinion, bandCount> bands;
    std::vector<HitOpinion> hits;
};

/// Fuses the evidence of all hits, with `clap` of the claps alone. Pure: same evidence, same answer.
[[nodiscard]] Agreed agree(const std::vector<const PairEvidence*>& hits, const LagGrid& grid, bool clap = false);
} // namespace tarry
