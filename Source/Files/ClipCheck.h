#pragma once
#include "Files/AudioInfo.h"

#include <vector>

namespace tarry
{
/// Looks for clipped places in a file that is read block by block: three samples in a row at full scale in files of
/// whole numbers, where a single one is a normalised peak (common practice, not of a standard); any sample at or above
/// full scale in float files, as the plugin's.
class ClipCheck
{
public:
    explicit ClipCheck(const AudioInfo& info);

    void look(const float* const* channels, int frames);

    [[nodiscard]] int places() const { return found; }
    /// Empty where nothing clips.
    [[nodiscard]] std::string note() const;

private:
    int sampleRate, needed;
    float fullScale;
    int found = 0;
    std::int64_t position = 0, first = 0; ///< frames
    std::vector<int> runs;                ///< samples at full scale up to now, by channel
};
} // namespace tarry
