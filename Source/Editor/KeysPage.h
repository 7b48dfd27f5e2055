#pragma once
#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The list of keys.
class KeysPage : public juce::Component
{
public:
    KeysPage();
    void paint(juce::Graphics&) override;
};
} // namespace tarry
