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

/// A row a scene: tier, name, seed, rate, truth, every method's answer and error, Tarry's report. Lags in ms. Throws
/// std::runtime_error.
void writeOutcomes(const std::filesystem::path& file, const std::vector<Outcome>& outcomes);

/// A row a scene: tier, seed, right (1, 0), confidence, then features(). Grade B and tiers without a lag are marked
/// by their tier. Throws std::runtime_error.
void writeFeatures(const std::filesystem::path& file, const std::vector<Outcome>& outcomes);
} // namespace tarry::bench
