#pragma once
#include "Standalone/Desk.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry::standalone
{
/// The window: the strip, and below it the editor that every host opens. Sized freely, from
/// the editor's least up.
class Window final : public juce::DocumentWindow
{
public:
    /// The desk outlives it.
    explicit Window(Desk& desk);

    void closeButtonPressed() override;

private:
    juce::ComponentBoundsConstrainer bounds;
};
} // namespace tarry::standalone
