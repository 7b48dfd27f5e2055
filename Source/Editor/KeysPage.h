#pragma once
#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The list of keys.
class KeysPage : public juce::Component
{
public:
    /// hasHost: space is the host's, and stays so.
    explicit KeysPage(bool hasHost);
    void paint(juce::Graphics&) override;

private:
    const char* ofSpace;
};
} // namespace tarry
