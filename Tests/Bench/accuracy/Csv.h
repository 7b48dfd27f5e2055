#pragma once
#include "Outcome.h"

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace tarry::bench
{
/// The figures of a report that may tell how far to trust it: name and value. Confidence itself is not among them.
[[nodiscard]] std::vector<std::pair<std::string, double>> features(const Report& report);

/// A row a scene: family, tier, set, name, seed, rate, truth, every method's answer and error, Tarry's report. Lags in
/// ms. Throws std::runtime_error.
void writeOutcomes(const std::filesystem::path& file, const std::vector<Outcome>& outcomes);

/// A row a scene for fit.py: what the scene is, truth and answer, right (1, 0), confidence, verdict, then
/// features() with `f_` before their names. Lags in ms; empty where there is none. Throws std::runtime_error.
void writeFeatures(const std::filesystem::path& file, const std::vector<Outcome>& outcomes);

/// A row a candidate lag, for fit.py: of which scene, the truth, the answer, its figures.
void writeCandidates(const std::filesystem::path& file, const std::vector<Outcome>& outcomes);
} // namespace tarry::bench
