#pragma once
#include "Editor/Figures.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <vector>

namespace tarry
{
/// The figures beside the verdict, one a line: whole lines, as many as fit, and none where there is no room.
class FiguresPanel : public juce::Component
{
public:
    FiguresPanel();

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;

    static constexpr int rowHeight = 19; ///< px
    [[nodiscard]] int rowsThatFit() const { return getHeight() / rowHeight; }

private:
    std::vector<Figure> figures;
};
} // namespace tarry
