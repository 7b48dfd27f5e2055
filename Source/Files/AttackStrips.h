#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// One attack as a small drawing (SVG, to stand in a page): the room in the middle, the spot as recorded above it, the
/// spot aligned below it, on one axis of time. Filled is the spot, outlined the room; the broken line marks the room's
/// arrival, `lag` s after the spot's attack. Colours come from the page's style (classes spot, room, at, axis).
/// `words`: what it shows, for those who do not see it. Empty where there is nothing to draw.
[[nodiscard]] std::string attackStrips(const AttackPicture& attack, double lag, const std::string& words);
} // namespace tarry
