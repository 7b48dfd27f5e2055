#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace tarry
{
/// A first plan of the sound files in a folder, for a person to go over.
struct PlanDraft
{
    struct Pair
    {
        std::string cue, take, instrument;
        std::filesystem::path spot, room; ///< relative to the folder
    };
    std::vector<Pair> pairs; ///< in order of cue, take, instrument
    struct Leftover
    {
        std::filesystem::path file; ///< relative to the folder
        std::string why;
    };
    std::vector<Leftover> leftovers; ///< what could not be paired

    /// As a CSV file, with paths relative to `planFolder`.
    [[nodiscard]] std::string toCsv(const std::filesystem::path& folder, const std::filesystem::path& planFolder) const;
};

/// Pairs spots with rooms by their names, those of their folders included: a room's name has a word such as 'room' or
/// 'array' in it; a spot belongs to the room whose other words are all in its name, and what it has beyond them is its
/// instrument ('7 take2 snare.wav' to '7 take2 room.wav'). Throws InputError where the folder cannot be read.
[[nodiscard]] PlanDraft draftPlan(const std::filesystem::path& folder);
} // namespace tarry
