#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace tarry
{
/// One question of a blind trial: a spot's two clips, as the bytes of a FLAC file each.
struct TrialCue
{
    std::string name; ///< of the row (rowName)
    std::string asRecorded, aligned;
};

struct TrialSheet
{
    std::string version, plan; ///< as in the session's record
    std::vector<TrialCue> cues;
    int times = 4; ///< how often each is asked
};

/// A blind trial as one page that holds its sounds, its script and its style: any browser opens it from a disk, nothing
/// is loaded and nothing sent. It hands back a small file of answers (TrialResult.h).
[[nodiscard]] std::string trialHtml(const TrialSheet& trial);

/// How often to ask each of so many: at least 16 answers in all, as in the plugin's trial, and 4 of each.
[[nodiscard]] int usualTimes(std::size_t cues);
} // namespace tarry
