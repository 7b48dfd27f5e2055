#pragma once

#include "Core/Controls/Names.h"
#include "Core/Controls/SettingTable.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace tarry::command
{
/// What the user asked of `tarry measure`, in the units of the command line.
struct MeasureOptions
{
    std::vector<std::filesystem::path> spots; ///< one at least
    std::filesystem::path room;
    bool startTogether = false; ///< whatever the files' time stamps say
    double reachMs = 80.0;
    double lookAheadMs = 0.0;
    std::string roomChannel = "first"; ///< first, left, right, centre, or a number from 1
    bool eachSide = false;
    bool clap = false;
    double temperature = 20.0;   ///< degrees Celsius
    std::optional<double> taped; ///< m, as measured with a tape
    Names names;
    std::string json;              ///< a file, "-" for standard output, or empty
    std::filesystem::path picture; ///< a file, or empty
};

/// What the user asked of `tarry print`.
struct PrintOptions
{
    MeasureOptions measure;
    std::filesystem::path spot, output;
    std::optional<double> lagMs;     ///< given: nothing is measured
    std::string polarity = "normal"; ///< or inverted
    std::string recall;              ///< a recall line; given: nothing is measured
    double leanMs = 0.0;
    bool wholeSamples = false;
    bool timeStamp = false;
    bool sameLength = false; ///< as long as the spot
    bool anyway = false;     ///< also where it is not advised
    bool overwrite = false;  ///< also where the output is there already
};

/// Accepts numbers from `least` to `most` and no others (not 'nan' either).
[[nodiscard]] CLI::Validator between(double least, double most);

/// The same for a setting of the plugin's: one range, whoever asks. As a validator, and in words: "5 to 200".
[[nodiscard]] CLI::Validator within(const Setting& setting);
[[nodiscard]] std::string rangeOf(const Setting& setting);

/// Metres from "10.7", "10.7m" or "35ft"; none where the text is no length from 0.3 to 100 m.
[[nodiscard]] std::optional<double> metresFrom(const std::string& text);

/// The options that shape a measurement, for every command that measures. Ranges are checked while parsing.
void addMeasureOptions(CLI::App& command, MeasureOptions& options);
} // namespace tarry::command
