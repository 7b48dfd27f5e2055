#include "Host/PluginPlayer.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <thread>

namespace tarry::host
{
namespace
{
std::string plain(const juce::String& name)
{
    std::string letters;
    for (const auto c : name.toLowerCase().toStdString())
        if (std::isalnum(static_cast<unsigned char>(c)) != 0) letters += c;
    return letters;
}

std::runtime_error problem(const std::string& path, const std::string& what)
{
    return std::runtime_error(path + ": " + what);
}

/// Sample `frame` of a side, with what lies outside as silence; a mono track feeds both sides.
float sampleOf(const Audio& audio, std::size_t side, std::int64_t frame)
{
    if (audio.channels.empty() || frame < 0 || frame >= static_cast<std::int64_t>(audio.frames())) return 0.0F;
    return audio.channels[std::min(side, audio.channels.size() - 1)][static_cast<std::size_t>(frame)];
}
} // namespace

std::unique_ptr<juce::AudioPluginInstance> loadPlugin(const std::string& path, double sampleRate, int blockSize)
{
    const juce::File bundle(std::filesystem::absolute(path).lexically_normal().string());
    if (!bundle.exists()) throw problem(path, "there is no such plugin");

    std::unique_ptr<juce::AudioPluginFormat> format;
    juce::OwnedArray<juce::PluginDescription> found;
    if (bundle.hasFileExtension("vst3"))
    {
        format = std::make_unique<juce::VST3PluginFormat>();
        format->findAllTypesForFile(found, bundle.getFullPathName());
    }
    else if (bundle.hasFileExtension("lv2"))
    {
        // LV2 knows plugins by their URIs: those that this bundle's manifest names.
        format = std::make_unique<juce::LV2PluginFormat>();
        const auto manifest = bundle.getChildFile("manifest.ttl").loadFileAsString();
        for (const auto& uri :
             format->searchPathsForPlugins({bundle.getParentDirectory().getFullPathName()}, false, false))
            if (manifest.contains("<" + uri + ">")) format->findAllTypesForFile(found, uri);
    }
    else
        throw problem(path, "is neither a .vst3 nor a .lv2 bundle");

    if (found.isEmpty()) throw problem(path, "holds no plugin that can be loaded");
    juce::String error;
    auto plugin = format->createInstanceFromDescription(*found.getFirst(), sampleRate, blockSize, error);
    if (plugin == nullptr) throw problem(path, error.toStdString());
    return plugin;
}

void setChannels(juce::AudioPluginInstance& plugin, int spotChannels, int roomChannels)
{
    const auto set = [](int channels) {
        return channels == 0 ? juce::AudioChannelSet::disabled() : juce::AudioChannelSet::canonicalChannelSet(channels);
    };
    auto layout = plugin.getBusesLayout();
    if (layout.inputBuses.size() != 2 || layout.outputBuses.size() != 1)
        throw std::runtime_error("the plugin has no side-chain to put the room on");
    layout.inputBuses.set(0, set(spotChannels));
    layout.inputBuses.set(1, set(roomChannels));
    layout.outputBuses.set(0, set(spotChannels));
    plugin.setBusesLayout(layout);
}

void setParameter(juce::AudioPluginInstance& plugin, const std::string& name, const std::string& value)
{
    static const juce::StringArray on{"on", "true", "yes"}, off{"off", "false", "no"};
    for (int i = 0; i < plugin.getParameters().size(); ++i)
    {
        auto* parameter = plugin.getHostedParameter(i);
        if (parameter == nullptr) continue;
        const auto id = parameter->getParameterID().fromLastOccurrenceOf(":", false, false);
        if (plain(name) != plain(id) && plain(name) != plain(parameter->getName(128))) continue;
        const bool isOn = on.contains(value, true), isOff = off.contains(value, true);
        parameter->setValueNotifyingHost(isOn ? 1.0F : isOff ? 0.0F : parameter->getValueForText(value));
        return;
    }
    throw std::runtime_error("the plugin has no parameter \"" + name + "\"");
}

void choosePreset(juce::AudioPluginInstance& plugin, const std::string& name)
{
    for (int i = 0; i < plugin.getNumPrograms(); ++i)
        if (plain(plugin.getProgramName(i)) == plain(name)) return plugin.setCurrentProgram(i);
    throw std::runtime_error("the plugin has no preset \"" + name + "\"");
}

Audio play(juce::AudioPluginInstance& plugin, const Audio& spot, const Audio& room, const PlaySettings& settings)
{
    const double rate = spot.sampleRate;
    const auto samples = [rate](double seconds) { return static_cast<std::int64_t>(std::llround(seconds * rate)); };
    // An LV2 tells its latency on a port, so only once it has run; no frame of the stream is used up for that.
    juce::AudioBuffer<float> nothing(std::max(plugin.getTotalNumInputChannels(), plugin.getTotalNumOutputChannels()),
                                     0);
    juce::MidiBuffer none;
    plugin.processBlock(nothing, none);
    juce::MessageManager::getInstance()->runDispatchLoopUntil(50);
    const std::int64_t latency = plugin.getLatencySamples();
    const auto once = static_cast<std::int64_t>(spot.frames());
    const std::int64_t lead = samples(settings.lead), played = once * settings.loops;
    const std::int64_t wanted = played + samples(settings.tail);
    const std::int64_t total = lead + wanted + latency;
    const std::int64_t roomLate = settings.roomLate ? latency : 0;

    const int spotChannels = plugin.getMainBusNumInputChannels(), inputs = plugin.getTotalNumInputChannels();
    const int outputs = plugin.getTotalNumOutputChannels();
    Audio output{rate, {}};
    output.channels.assign(std::min(spot.channels.size(), static_cast<std::size_t>(outputs)),
                           std::vector<float>(static_cast<std::size_t>(wanted)));

    std::atomic<bool> done{false};
    std::thread audioThread(
        [&]
        {
            juce::AudioBuffer<float> buffer(std::max(inputs, outputs),
                                            *std::max_element(settings.blocks.begin(), settings.blocks.end()));
            juce::MidiBuffer midi;
            auto changes = settings.changes;
            const auto started = std::chrono::steady_clock::now();
            std::size_t turn = 0;
            for (std::int64_t at = 0; at < total;)
            {
                const auto frames = static_cast<int>(
                    std::min<std::int64_t>(settings.blocks[turn++ % settings.blocks.size()], total - at));
                const auto due = std::partition(changes.begin(), changes.end(),
                                                [&](const Change& change) { return lead + samples(change.time) > at; });
                for (auto change = due; change != changes.end(); ++change)
                    setParameter(plugin, change->name, change->value);
                changes.erase(due, changes.end());

                juce::AudioBuffer<float> block(buffer.getArrayOfWritePointers(), buffer.getNumChannels(), frames);
                block.clear();
                for (int channel = 0; channel < inputs; ++channel)
                {
                    const bool isRoom = channel >= spotChannels;
                    const auto side = static_cast<std::size_t>(isRoom ? channel - spotChannels : channel);
                    for (int k = 0; k < frames; ++k)
                    {
                        const std::int64_t frame = at + k - lead - (isRoom ? roomLate : 0);
                        const bool plays = frame >= 0 && frame < played;
                        block.setSample(channel, k, plays ? sampleOf(isRoom ? room : spot, side, frame % once) : 0.0F);
                    }
                }
                plugin.processBlock(block, midi);
                for (std::size_t channel = 0; channel < output.channels.size(); ++channel)
                    for (int k = 0; k < frames; ++k)
                        if (const std::int64_t to = at + k - lead - latency; to >= 0 && to < wanted)
                            output.channels[channel][static_cast<std::size_t>(to)] =
                                block.getSample(static_cast<int>(channel), k);
                at += frames;
                if (!settings.offline && settings.pace > 0.0)
                    std::this_thread::sleep_until(
                        started + std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                                      std::chrono::duration<double>(static_cast<double>(at) / rate / settings.pace)));
            }
            done = true;
        });
    while (!done) juce::MessageManager::getInstance()->runDispatchLoopUntil(5);
    audioThread.join();
    return output;
}
} // namespace tarry::host
