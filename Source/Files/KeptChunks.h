#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace tarry
{
/// What a sound file says beside its sound, byte for byte: a chunk that a print of it keeps.
struct KeptChunk
{
    std::string name;  ///< four letters
    std::string bytes; ///< without its header

    bool operator==(const KeptChunk&) const = default;
};

/// Of WAV and RF64: bext (EBU Tech 3285), iXML and axml, cue points, their labels, playlist, sampler's and instrument's
/// data; of AIFF: markers, comments, names. None of other kinds of file.
[[nodiscard]] std::vector<KeptChunk> keptChunksOf(const std::filesystem::path& file);

/// Makes a chunk's length a multiple of four without changing what it says. libsndfile would do so with zeros at the
/// end, which XML does not allow and readers of a LIST take for another entry.
void fillUpToFour(KeptChunk& chunk);

/// iXML repeats the broadcast chunk's time reference: sets it there too, wherever it stands.
void setTimeReferenceInIxml(std::string& ixml, std::uint64_t samplesSinceMidnight);
} // namespace tarry
