#include "Plugin/Processor.h"

// The one function that JUCE's wrappers ask for.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    return new tarry::Processor;
}
