#pragma once
#include <filesystem>
#include <vector>

namespace tarry::bench
{
/// A sound of a Gravis UltraSound patch file, as the package freepats has them.
struct Patch
{
    std::vector<double> samples;
    double rate = 44100.0; ///< Hz
    double root = 440.0;   ///< Hz, at which it was recorded
};

/// Every sample of the file. Throws std::runtime_error with a line that names it.
[[nodiscard]] std::vector<Patch> readPatches(const std::filesystem::path& file);
} // namespace tarry::bench
