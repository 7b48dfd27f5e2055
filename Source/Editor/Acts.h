#pragma once
#include "Editor/EditorTarget.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// What leads from measuring to held and back, each in its place for good: freeze with what it will hold written on it,
/// measure, apply, undo and redo, and the lock over all of them. The one that is due next is lit.
class Acts : public juce::Component
{
public:
    explicit Acts(EditorTarget&);

    void update(const EditorModel&);
    void resized() override;
    /// As if pressed, where it can be done now.
    void press(const juce::String& title);

    static constexpr int height = 30 + 3 + 22; ///< px

private:
    EditorTarget& target;
    bool isLocked = false; ///< by its own switch
    juce::TextButton freeze, measure, apply, undo, redo, lock;
};
} // namespace tarry
