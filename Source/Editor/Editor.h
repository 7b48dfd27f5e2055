#pragma once
#include <juce_audio_processors/juce_audio_processors.h>

namespace tarry
{
class Processor;

/// What a host opens: resizable from 75 to 200 % at a fixed ratio. The processor outlives it. [screen]
[[nodiscard]] juce::AudioProcessorEditor* makeEditor(Processor& processor);
} // namespace tarry
