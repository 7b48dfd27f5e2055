#pragma once
#include "Tier.h"

#include <memory>
#include <mutex>
#include <optional>

namespace tarry::bench
{
/// A response measured in a room, at soundRate.
struct MeasuredRoom
{
    std::string file, place;
    std::vector<double> response;
    double onset = 0.0;               ///< s, the first sample above 10 % of the peak
    std::optional<Polarity> polarity; ///< where the first lobe tells, with and without its treble
};

/// A folder of measured responses with a manifest.csv: file, place, onset_10pct_ms, first_lobe_sign,
/// first_lobe_sign_lp2k. Rooms are parted among the sets by place: no two sets hear one place.
class MeasuredRooms
{
public:
    /// An empty path: there are none, and scenes that need them are skipped.
    explicit MeasuredRooms(std::filesystem::path folder) : root(std::move(folder)) {}

    /// The set's n-th room, round and round; with `place`, of that place alone. Throws Lacking, std::runtime_error.
    [[nodiscard]] std::shared_ptr<const MeasuredRoom> pick(SeedSet set, unsigned n,
                                                           const std::string& place = {}) const;

private:
    std::filesystem::path root;
    mutable std::mutex lock;
    mutable std::vector<std::shared_ptr<const MeasuredRoom>> rooms;
    void load() const;
};
} // namespace tarry::bench
