#pragma once
#include "Files/SessionRecord.h"

#include <filesystem>
#include <vector>

namespace tarry
{
/// The first hits of a row as heard in the blend, once as recorded and once aligned: nothing differs between the two
/// but what aligning does.
struct BlendClips
{
    int rate = 0;                                        ///< Hz
    std::vector<std::vector<float>> asRecorded, aligned; ///< channel by channel; one, or two where the room has more
    double roomGainDb = 0.0; ///< dB by which the room is raised so that it is as loud as the spot
    double difference = 0.0; ///< LU, aligned less as recorded, before they were matched
};

/// Cuts and mixes them: the stretches of row.clips one after the other, spot and room equally loud (levels as recorded
/// say more of preamplifiers than of a mix), both clips matched by ITU-R BS.1770 to within 0.1 LU and at -23 LUFS (EBU
/// R 128) or below, so that no peak comes above -1 dBFS. Aligned is lag, lean and polarity of the row, also where the
/// decision is to leave the spot. Files of more than 48 kHz are brought to 48 kHz. Empty clips where the row has no lag
/// or nothing to cut, or is too soft to be measured. folder: where the row's paths start. Throws InputError.
[[nodiscard]] BlendClips blendClips(const SessionRow& row, const std::filesystem::path& folder);

/// Makes them and writes them into `output` under clipFilesOf(row), as FLAC of 16 bits. False where there are none.
/// Throws InputError and OutputError.
bool writeBlendClips(const SessionRow& row, const std::filesystem::path& folder, const std::filesystem::path& output);
} // namespace tarry
