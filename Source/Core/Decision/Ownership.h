#pragma once
#include "Core/Evidence/Evidence.h"

#include <algorithm>
#include <array>
#include <vector>

namespace tarry
{
/// How much each band of each hit counts, 0 to 1.
using HitWeights = std::vector<std::array<double, bandCount>>;

/// The same by loudness alone, for a judgement that does not rest on ownership: the root of the hit's energy against
/// the loudest's.
[[nodiscard]] HitWeights weightsByLoudness(const std::vector<const PairEvidence*>& hits);

/// Largest weight that any band of a hit has.
[[nodiscard]] inline double weightOf(const std::array<double, bandCount>& ofBands)
{
    return *std::max_element(ofBands.begin(), ofBands.end());
}

/// How likely each hit, and each of its bands, is the player's own and not a neighbour's.
///
/// The player's own hits are far louder in the spot than in the room (about 27 dB at 0.5 m against 11 m), a
/// neighbour's are not. Where the hits fall into two groups by that figure, the border lies between them; where they
/// do not, only hits far below the most own are doubted.
class Ownership
{
public:
    /// clap: the measurement rests on claps alone; see `claps`.
    explicit Ownership(const std::vector<const PairEvidence*>& hits, bool clap = false);

    /// How much each band of each hit counts: a clear step, in a quiet moment, the player's own.
    [[nodiscard]] HitWeights weights(const std::vector<const PairEvidence*>& hits) const;

    [[nodiscard]] double ofHit(std::size_t hit) const { return hitShare[hit]; }             ///< 0 to 1
    [[nodiscard]] double ofBand(std::size_t hit, std::size_t band, double bandOwnDb) const; ///< 0 to 1
    [[nodiscard]] bool crowd() const { return twoGroups; }                                  ///< neighbours are heard

private:
    /// 1 for a clap, 0 for anything else. A clap steps up in every band at once, and from 1 kHz up is the
    /// loudest that does so, or within 6 dB of it: soft hits, footsteps and talk do not count. Empty where nothing
    /// steps up in every band.
    static std::vector<double> claps(const std::vector<const PairEvidence*>& hits);
    void setHitBorder(const std::vector<double>& ownDb);

    std::vector<double> hitShare;
    std::array<double, bandCount> bandBorder{}; // dB
    double hitBorder = 0.0;                     // dB
    bool twoGroups = false;
};
} // namespace tarry
