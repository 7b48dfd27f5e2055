#pragma once
#include <filesystem>
#include <vector>

namespace tarry::bench
{
/// A note of a SoundFont 2 bank.
struct Note
{
    int bank = 0;    ///< 128: drum kits
    int program = 0; ///< from 0
    int key = 60;    ///< MIDI key
    int velocity = 100;
    double start = 0.0;  ///< s
    double length = 1.0; ///< s until the key is let go
};

/// The notes played together by fluidsynth, mono at `rate`, without reverberation and chorus. The same samples every
/// time. Several threads, one after another. Throws std::runtime_error.
[[nodiscard]] std::vector<double> playNotes(const std::filesystem::path& soundFont, const std::vector<Note>& notes,
                                            double seconds, double rate);
} // namespace tarry::bench
