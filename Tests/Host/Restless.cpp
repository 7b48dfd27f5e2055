// tarry-restless PLUGIN SEED ACTS: a host that does everything in random order while audio runs: saves and loads states
// (broken ones too), chooses presets, turns parameters, opens, sizes and closes the editor where there is a screen,
// clicks and presses keys in it (undo, freezing, trials, the lock), changes rate, blocks and channels, renders offline,
// throws the instance away and makes another. Ends with status 1 where a sample is none.
#include "Host/PluginPlayer.h"

#include <atomic>
#include <cmath>
#include <iostream>
#include <mutex>
#include <random>
#include <thread>

namespace
{
using namespace tarry::host;

class Host
{
public:
    Host(std::string bundle, unsigned seed, bool screen) : path(std::move(bundle)), random(seed), hasScreen(screen)
    {
        renew();
        audio = std::thread([this] { playOn(); });
    }
    ~Host()
    {
        editor.reset();
        done = true;
        audio.join();
    }
    Host(const Host&) = delete;
    Host& operator=(const Host&) = delete;
    Host(Host&&) = delete;
    Host& operator=(Host&&) = delete;

    void act()
    {
        switch (upTo(editor != nullptr ? 14 : 11))
        {
        case 0:
        case 1:
            states.push_back(saved());
            break;
        case 2:
            load(states[static_cast<std::size_t>(upTo(static_cast<int>(states.size()) - 1))]);
            break;
        case 3:
            // Of an LV2 the host keeps Turtle: its own reader falls over broken text (lilv, in sord_node_get_string).
            if (!path.ends_with(".lv2")) load(broken());
            break;
        case 4:
            plugin->setCurrentProgram(upTo(plugin->getNumPrograms() - 1));
            break;
        case 5:
        case 6:
            turn();
            break;
        case 7:
            showEditor();
            break;
        case 8:
            closeEditor();
            break;
        case 9:
            reshape();
            break;
        case 10:
            fromOtherThreads();
            break;
        case 11:
            if (upTo(3) == 0) renew();
            break;
        default:
            for (int i = upTo(7); i >= 0; --i) touchEditor();
        }
        if (states.size() > 8) states.erase(states.begin());
        juce::MessageManager::getInstance()->runDispatchLoopUntil(upTo(15));
    }
    [[nodiscard]] int wildSamples() const { return wild; }
    [[nodiscard]] int blocksPlayed() const { return blocks; }
    [[nodiscard]] int editorsOpened() const { return editors; }
    [[nodiscard]] int editorsTouched() const { return touches; }

private:
    int upTo(int most) { return static_cast<int>(random() % static_cast<unsigned>(most + 1)); }

    juce::MemoryBlock saved()
    {
        juce::MemoryBlock blob;
        plugin->getStateInformation(blob);
        return blob;
    }
    void load(const juce::MemoryBlock& blob)
    {
        plugin->setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
    }
    /// One of ours, cut short or with some bytes changed.
    juce::MemoryBlock broken()
    {
        auto blob = saved();
        if (blob.isEmpty()) return blob;
        if (upTo(1) == 0) blob.setSize(static_cast<std::size_t>(upTo(static_cast<int>(blob.getSize()) - 1)));
        for (int i = upTo(5); i > 0 && !blob.isEmpty(); --i)
            blob[upTo(static_cast<int>(blob.getSize()) - 1)] = static_cast<char>(upTo(255));
        return blob;
    }
    void turn()
    {
        const auto& all = plugin->getParameters();
        all[upTo(all.size() - 1)]->setValueNotifyingHost(static_cast<float>(upTo(1000)) / 1000.0F);
    }
    void showEditor()
    {
        if (!hasScreen) return;
        if (editor == nullptr)
        {
            editor.reset(plugin->createEditorIfNeeded());
            editor->addToDesktop(0);
            editor->setVisible(true);
            ++editors;
        }
        else
            editor->setSize(500 + upTo(1200), 300 + upTo(900));
    }
    /// X's own events, by xdotool, at any place of the editor: a click, and a key that means something there or
    /// nothing.
    void touchEditor()
    {
        static const juce::StringArray keys{"a",      "b",       "f",   "m",    "p",     "o",       "l",     "z",
                                            "z",      "shift+z", "h",   "0",    "comma", "plus",    "minus", "Escape",
                                            "Return", "Delete",  "Tab", "Left", "Right", "question"};
        const auto area = editor->getScreenBounds();
        juce::ChildProcess hand;
        const bool began = hand.start(juce::StringArray{
            "xdotool", "mousemove", juce::String(area.getX() + upTo(area.getWidth() - 1)),
            juce::String(area.getY() + upTo(area.getHeight() - 1)), "click", "1", "key", keys[upTo(keys.size() - 1)]});
        if (!began) return;
        while (hand.isRunning()) juce::MessageManager::getInstance()->runDispatchLoopUntil(2);
        ++touches;
    }
    void reshape()
    {
        const std::scoped_lock guard(playing);
        plugin->releaseResources();
        setChannels(*plugin, 1 + upTo(1), upTo(8));
        start();
    }
    /// Hosts save in the background; this one's own lock wants its messages served meanwhile.
    void fromOtherThreads()
    {
        std::atomic<bool> isSaved{false};
        std::thread saver(
            [&]
            {
                (void)saved();
                isSaved = true;
            });
        turn();
        while (!isSaved) juce::MessageManager::getInstance()->runDispatchLoopUntil(1);
        saver.join();
    }
    /// JUCE 7's window for a foreign editor answers a move later, by its address (XEmbedComponent, handleX11Event): it
    /// is hidden, and has answered, before it goes.
    void closeEditor()
    {
        if (editor == nullptr) return;
        editor->setVisible(false);
        juce::MessageManager::getInstance()->runDispatchLoopUntil(50);
        editor.reset();
    }
    void renew()
    {
        closeEditor();
        const std::scoped_lock guard(playing);
        plugin = loadPlugin(path, 48000.0, 512);
        start();
        states.push_back(saved());
    }
    void start()
    {
        constexpr double rates[] = {22050.0, 44100.0, 48000.0, 96000.0, 192000.0};
        rate = rates[upTo(4)];
        longest = 1 + upTo(2048);
        plugin->setNonRealtime(upTo(3) == 0);
        plugin->setRateAndBufferSizeDetails(rate, longest);
        plugin->prepareToPlay(rate, longest);
    }
    void playOn()
    {
        std::mt19937 noise(1);
        for (std::int64_t at = 0; !done;)
        {
            {
                const std::scoped_lock guard(playing);
                const int channels = std::max(plugin->getTotalNumInputChannels(), plugin->getTotalNumOutputChannels());
                const int frames = static_cast<int>(noise() % static_cast<unsigned>(longest + 1));
                juce::AudioBuffer<float> buffer(channels, frames);
                for (int k = 0; k < frames; ++k, ++at)
                    for (int c = 0; c < channels; ++c)
                    {
                        const double t = std::fmod(static_cast<double>(at) / rate - (c < 2 ? 0.0 : 0.02), 0.2);
                        buffer.setSample(c, k,
                                         static_cast<float>((t < 0.0 ? 0.0 : std::exp(-50.0 * t)) *
                                                            (static_cast<double>(noise()) / 4294967296.0 - 0.5)));
                    }
                juce::MidiBuffer midi;
                plugin->processBlock(buffer, midi);
                for (int c = 0; c < plugin->getTotalNumOutputChannels(); ++c)
                    for (int k = 0; k < frames; ++k)
                        if (!(std::abs(buffer.getSample(c, k)) < 100.0F)) ++wild;
                ++blocks;
            }
            std::this_thread::sleep_for(std::chrono::microseconds(500));
        }
    }

    std::string path;
    std::mt19937 random;
    bool hasScreen;
    std::unique_ptr<juce::AudioPluginInstance> plugin;
    std::unique_ptr<juce::AudioProcessorEditor> editor;
    std::vector<juce::MemoryBlock> states;
    double rate = 48000.0;
    int longest = 512, editors = 0, touches = 0;
    std::mutex playing; // no host changes the shape while it plays
    std::atomic<int> wild{0}, blocks{0};
    std::atomic<bool> done{false};
    std::thread audio;
};
} // namespace

int main(int argc, char** argv)
{
    if (argc != 4)
    {
        std::cerr << "usage: tarry-restless PLUGIN SEED ACTS\n";
        return 2;
    }
    // What JUCE takes for a program of its own outlives X's errors; without a window manager it makes some.
    juce::JUCEApplicationBase::createInstance = []() -> juce::JUCEApplicationBase* { return nullptr; };
    const juce::ScopedJuceInitialiser_GUI juce;
    try
    {
        const bool screen = juce::Desktop::getInstance().getDisplays().getPrimaryDisplay() != nullptr;
        Host host(argv[1], static_cast<unsigned>(std::stoul(argv[2])), screen);
        for (int i = std::stoi(argv[3]); i > 0; --i) host.act();
        std::cout << "blocks " << host.blocksPlayed() << ", editors " << host.editorsOpened() << ", touches "
                  << host.editorsTouched() << ", wild samples " << host.wildSamples() << '\n';
        return host.wildSamples() == 0 ? 0 : 1;
    }
    catch (const std::exception& error)
    {
        std::cerr << "tarry-restless: " << error.what() << '\n';
        return 2;
    }
}
