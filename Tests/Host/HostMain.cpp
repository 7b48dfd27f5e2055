// tarry-host: loads the built plugin as any host does and streams files through it. For tests, the demo and curious
// people; the plugin knows nothing of it.
#include "Host/PluginPlayer.h"
#include "Host/PluginState.h"

#include <CLI/CLI.hpp>

#include <fstream>
#include <iostream>

namespace
{
using nlohmann::json;
using namespace tarry::host;

struct Options
{
    std::string plugin, spot, room, out, jsonOut, loadState, saveState, merge, preset;
    std::vector<std::string> set, at, setAfter;
    PlaySettings play;
};

std::pair<std::string, std::string> split(const std::string& text, char separator)
{
    const auto at = text.find(separator);
    if (at == std::string::npos || at == 0)
        throw std::runtime_error("\"" + text + "\": expected NAME" + separator + "VALUE");
    return {text.substr(0, at), text.substr(at + 1)};
}

void setAll(juce::AudioPluginInstance& plugin, const std::vector<std::string>& settings)
{
    for (const auto& text : settings)
    {
        const auto [name, value] = split(text, '=');
        setParameter(plugin, name, value);
    }
}

juce::MemoryBlock stateOf(juce::AudioPluginInstance& plugin)
{
    juce::MemoryBlock blob;
    plugin.getStateInformation(blob);
    return blob;
}

/// Runs the plugin with silence, so that parameters reach it and its worker and messages get their turn.
void idle(juce::AudioPluginInstance& plugin, const PlaySettings& like, double seconds)
{
    PlaySettings settings = like;
    settings.changes.clear();
    settings.lead = 0.0;
    settings.tail = seconds;
    settings.pace = settings.offline ? 0.0 : 1.0;
    const Audio silence{plugin.getSampleRate(), {std::vector<float>()}};
    (void)play(plugin, silence, silence, settings);
    juce::MessageManager::getInstance()->runDispatchLoopUntil(20);
}

json describe(juce::AudioPluginInstance& plugin)
{
    json result = {{"plugin", plugin.getName().toStdString()},
                   {"format", plugin.getPluginDescription().pluginFormatName.toStdString()},
                   {"sample_rate", plugin.getSampleRate()},
                   {"latency_samples", plugin.getLatencySamples()},
                   {"spot_channels", plugin.getMainBusNumInputChannels()},
                   {"room_channels", plugin.getTotalNumInputChannels() - plugin.getMainBusNumInputChannels()}};
    for (int i = 0; i < plugin.getNumPrograms(); ++i)
        result["presets"].push_back(plugin.getProgramName(i).toStdString());
    for (const auto* parameter : plugin.getParameters())
        result["parameters"][parameter->getName(128).toStdString()] = {
            {"value", parameter->getValue()}, {"text", parameter->getCurrentValueAsText().toStdString()}};
    const auto state = readPluginState(stateOf(plugin));
    result["state"] = state ? *state : json(nullptr);
    if (!state) return result;
    // The report of what is held, in the words and units of `tarry measure --json`.
    if (const auto& report = state->at("report"); report.is_object())
    {
        for (const auto& [key, value] : report.items()) result[key] = value;
        for (const auto* key : {"lag", "spread"})
            if (const auto found = report.find(std::string(key) + "_s"); found != report.end() && found->is_number())
                result[std::string(key) + "_ms"] = 1e3 * found->get<double>();
        for (const auto* key : {"found", "used", "agreeing", "lost"})
            result["hits"][key] = report.at("hits_" + std::string(key));
    }
    result["phase"] = state->at("follow").at("phase");
    result["held"] = state->at("follow").at("held");
    return result;
}

void run(const Options& options)
{
    const Audio spot = readAudio(options.spot);
    const Audio room = options.room.empty() ? Audio{spot.sampleRate, {}} : readAudio(options.room);
    if (room.sampleRate != spot.sampleRate)
        throw std::runtime_error(options.room + ": not at the sample rate of " + options.spot +
                                 "; a host has only one");

    auto settings = options.play;
    for (const auto& text : options.at)
    {
        const auto [time, change] = split(text, ':');
        const auto [name, value] = split(change, '=');
        settings.changes.push_back({std::stod(time), name, value});
    }

    const int largest = *std::max_element(settings.blocks.begin(), settings.blocks.end());
    const auto plugin = loadPlugin(options.plugin, spot.sampleRate, largest);
    setChannels(*plugin, static_cast<int>(spot.channels.size()), static_cast<int>(room.channels.size()));
    plugin->setNonRealtime(settings.offline);
    plugin->setRateAndBufferSizeDetails(spot.sampleRate, largest);
    if (!options.loadState.empty())
    {
        juce::MemoryBlock blob;
        if (!juce::File(std::filesystem::absolute(options.loadState).string()).loadFileAsData(blob))
            throw std::runtime_error(options.loadState + ": cannot be read");
        plugin->setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
    }
    if (!options.merge.empty())
    {
        const auto blob = mergePluginState(stateOf(*plugin), json::parse(options.merge));
        plugin->setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
    }
    plugin->prepareToPlay(spot.sampleRate, largest);

    if (!options.preset.empty()) choosePreset(*plugin, options.preset);
    // A host's transport stands still before it rolls: parameters arrive meanwhile.
    setAll(*plugin, options.set);
    idle(*plugin, settings, settings.offline ? 0.01 : 0.15);
    const Audio out = play(*plugin, spot, room, settings);
    setAll(*plugin, options.setAfter);
    idle(*plugin, settings, settings.offline ? 0.01 : 0.3);

    if (!options.out.empty()) writeAudio(options.out, out);
    if (!options.saveState.empty())
    {
        const auto blob = stateOf(*plugin);
        if (!juce::File(std::filesystem::absolute(options.saveState).string())
                 .replaceWithData(blob.getData(), blob.getSize()))
            throw std::runtime_error(options.saveState + ": cannot be written");
    }
    if (!options.jsonOut.empty())
    {
        const auto text = describe(*plugin).dump(2) + "\n";
        if (options.jsonOut == "-")
            std::cout << text;
        else if (!(std::ofstream(options.jsonOut) << text))
            throw std::runtime_error(options.jsonOut + ": cannot be written");
    }
    plugin->releaseResources();
}
} // namespace

int main(int argc, char** argv) // NOLINT(bugprone-exception-escape): only for want of memory
{
    Options options;
    CLI::App app("Streams a spot and a room through the Tarry plugin, as a host does.");
    app.add_option("--plugin", options.plugin, "the .vst3 or .lv2 bundle")->required();
    app.add_option("--spot", options.spot, "audio file for the main input")->required();
    app.add_option("--room", options.room, "audio file for the side-chain; none: nothing is connected");
    app.add_option("--out", options.out, "where the output goes, 32-bit float WAV, reported latency taken off");
    app.add_option("--json", options.jsonOut, "where what the plugin says goes; - is standard output");
    app.add_flag("--offline", options.play.offline, "render offline, as a bounce does");
    app.add_option("--block", options.play.blocks, "block sizes in frames, in turn")
        ->delimiter(',')
        ->check(CLI::Range(1, 65536));
    app.add_option("--pace", options.play.pace,
                   "in real time: how many times faster; 0: as fast as it goes (default 4)")
        ->check(CLI::NonNegativeNumber);
    app.add_option("--tail", options.play.tail, "seconds of silence after the files (default 0.5)")
        ->check(CLI::NonNegativeNumber);
    app.add_option("--loops", options.play.loops, "how often the files are played")->check(CLI::PositiveNumber);
    app.add_flag("--room-late", options.play.roomLate,
                 "deliver the room later by the latency reported, as some hosts do");
    app.add_option("--set", options.set, "NAME=VALUE: a parameter, by id or name, before the files");
    app.add_option("--at", options.at, "SECONDS:NAME=VALUE: a parameter, while they play");
    app.add_option("--set-after", options.setAfter, "NAME=VALUE: a parameter, after the files and before saving");
    app.add_option("--preset", options.preset, "a preset of the plugin's own list, by its name, before --set");
    app.add_option("--load-state", options.loadState, "a state saved by --save-state with the same format of plugin");
    app.add_option("--merge-state", options.merge, "JSON to merge into the plugin's own state, after --load-state");
    app.add_option("--save-state", options.saveState, "where the plugin's state goes");
    CLI11_PARSE(app, argc, argv);

    const juce::ScopedJuceInitialiser_GUI juce;
    try
    {
        run(options);
    }
    catch (const std::exception& error)
    {
        std::cerr << "tarry-host: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
