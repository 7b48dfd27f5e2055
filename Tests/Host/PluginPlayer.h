#pragma once
#include "Host/AudioFile.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace tarry::host
{
/// Loads the plugin in a .vst3 or .lv2 bundle, as any host does. [message thread]
/// @throws std::runtime_error that names the bundle
[[nodiscard]] std::unique_ptr<juce::AudioPluginInstance> loadPlugin(const std::string& path, double sampleRate,
                                                                    int blockSize);

/// Asks for this many channels (no room: 0); a plugin that refuses keeps its own layout.
void setChannels(juce::AudioPluginInstance& plugin, int spotChannels, int roomChannels);

/// Sets a parameter by its id or name, whatever their case and spaces, from text in its own unit or on/off.
/// @throws std::runtime_error where there is no such parameter
void setParameter(juce::AudioPluginInstance& plugin, const std::string& name, const std::string& value);

/// Chooses a preset of the list that the plugin offers to hosts, by its name.
/// @throws std::runtime_error where there is no such preset
void choosePreset(juce::AudioPluginInstance& plugin, const std::string& name);

/// A parameter that changes while the stream plays, at the first block that starts at or after `time`.
struct Change
{
    double time = 0.0; ///< s
    std::string name, value;
};

struct PlaySettings
{
    std::vector<int> blocks{512}; ///< frames, in turn
    bool offline = false;
    double pace = 4.0;     ///< times real time, 0 as fast as it goes; real time only
    double lead = 0.0;     ///< s of silence before the stream, not in the output
    double tail = 0.5;     ///< s of silence after it, in the output
    int loops = 1;         ///< how often the files are played
    bool roomLate = false; ///< deliver the room later by the latency the plugin reports, as some hosts do
    std::vector<Change> changes;
};

/// Streams both through the plugin on a thread of its own, while this one serves the plugin's messages. The output is
/// moved earlier by the reported latency, as hosts do. [message thread]
[[nodiscard]] Audio play(juce::AudioPluginInstance& plugin, const Audio& spot, const Audio& room,
                         const PlaySettings& settings);
} // namespace tarry::host
