#pragma once
#include "Editor/EditorModel.h"

#include <juce_core/juce_core.h>

#include <vector>

namespace tarry
{
/// One figure, as it is read: what it is called, and its value with its unit.
struct Figure
{
    juce::String name, value;
    bool operator==(const Figure&) const = default;
};

/// Every figure behind a verdict, in full; none where there is nothing to be said by figures.
[[nodiscard]] std::vector<Figure> allFigures(const EditorModel&);
/// Those that stand nowhere else on the picture's page, in few words, the most telling first.
[[nodiscard]] std::vector<Figure> briefFigures(const EditorModel&);
} // namespace tarry
