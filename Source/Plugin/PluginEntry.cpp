#include "Editor/Editor.h"
#include "Plugin/Processor.h"

// The one function that JUCE's wrappers ask for: it puts processor and screen together.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    auto* processor = new tarry::Processor;
    processor->editorMaker = tarry::makeEditor;
    return processor;
}
