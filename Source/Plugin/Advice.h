#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Report/Report.h"
#include "Plugin/Follow.h"

#include <string>
#include <vector>

/// What the plugin has to say beside a report: sentences and button texts for the screen, from plain values. UTF-8.
namespace tarry
{
/// How the held lag stands to what is told beside it, and what helps now. Most pressing first; empty: nothing.
[[nodiscard]] std::vector<std::string> adviceOn(const Report& report, const Follow::State& state,
                                                const Controls& controls, const Setup& setup, int spotChannels);

/// "The last 6 hits say 25.30 ms; 31.08 ms is held.": what is offered, with the old one in view.
[[nodiscard]] std::string offerWords(const Offer& offer, const std::optional<Sides>& held);

/// What the freeze button will do: "Freeze 31.08 ms", "Keep 31.08 ms", "Stay as recorded".
[[nodiscard]] std::string freezeWords(const Follow::FreezePlan& plan);

/// The lag beside the tape, in a few words; empty without a tape or a lag that is a way through air.
[[nodiscard]] std::string tapeWords(const std::optional<double>& lag, const Setup& setup);
} // namespace tarry
