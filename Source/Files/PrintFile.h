#pragma once
#include "Core/Ground/Types.h"
#include "Files/AudioReader.h"
#include "Files/SafeFile.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace tarry
{
/// What to print.
struct PrintJob
{
    std::vector<Alignment> sides; ///< one for each channel of the spot
    bool wholeSamples = false;
    double lookAhead = 0.0;  ///< s: room for fractions where the lag is shorter than half the filter
    bool sameLength = false; ///< as long as the spot: what moves beyond its end is lost
    Existing existing = Existing::replace;
    std::string history{}; ///< for a broadcast wave's coding history; empty: none
    std::function<void(double seconds, double ofSeconds)> howFar{}; ///< told now and then
};

/// What was printed.
struct PrintResult
{
    std::vector<double> heard; ///< delay of each side in samples; it can differ from the one asked for (see Delay)
    std::int64_t frames = 0;
    std::int64_t clipped = 0;  ///< samples held at full scale
    std::int64_t oneShort = 0; ///< samples at negative full scale that lost a step when turned over in whole numbers
    std::vector<std::string> lost; ///< chunks of the spot that the container cannot hold
};

/// Writes the spot, moved by each side's lag and turned by its polarity, as a file of the same kind that starts where
/// the spot starts and is long enough that nothing of it is lost at its end. Through the same Delay as the plugin, so
/// the samples are the same; whole-sample lags copy the stored samples bit for bit. Throws InputError, OutputError.
PrintResult printFile(AudioReader& spot, const std::filesystem::path& output, const PrintJob& job);

/// Writes the spot's samples untouched with the broadcast wave's time reference `samples` later; where the job's sides
/// ask for inverted polarity, with each sample's sign changed and nothing else. Throws InputError, OutputError.
PrintResult copyWithTimeStamp(AudioReader& spot, const std::filesystem::path& output, std::int64_t samples,
                              const PrintJob& job = {});

/// What a broadcast wave's coding history keeps of a print: "Tarry 0.1.0 lag 31.084000 ms polarity normal lean 8.000
/// ms". held: of each channel, without the lean (s).
[[nodiscard]] std::string historyOf(const std::vector<Alignment>& held, double lean, bool wholeSamples, bool timeStamp);
} // namespace tarry
