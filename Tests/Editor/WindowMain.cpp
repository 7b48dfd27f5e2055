// The editor in a window of its own, on a real processor that a made-up hall plays through in real time: for hands, and
// for drive.sh. Prints a line for everything that changes. Usage: editor-window [SCENE [SEED]]; ends with its input.
#include "Editor/Editor.h"
#include "Hall/Scene.h"
#include "Plugin/Keeping.h"
#include "Plugin/Processor.h"

#include <atomic>
#include <cmath>
#include <exception>
#include <iostream>
#include <map>
#include <memory>
#include <string>
#include <thread>

using namespace tarry;

namespace
{
/// Plays the scene round and round, a block every block's length of time.
class Player
{
public:
    Player(Processor& plugin, hall::Scene made) : processor(plugin), scene(std::move(made))
    {
        auto layout = processor.getBusesLayout();
        for (auto& bus : layout.inputBuses) bus = juce::AudioChannelSet::mono();
        for (auto& bus : layout.outputBuses) bus = juce::AudioChannelSet::mono();
        processor.setBusesLayout(layout);
        processor.setRateAndBufferSizeDetails(scene.sampleRate, block);
        processor.prepareToPlay(scene.sampleRate, block);
        thread = std::thread([this] { run(); });
    }
    ~Player()
    {
        stop = true;
        thread.join();
    }

private:
    static constexpr int block = 480;

    void run()
    {
        juce::AudioBuffer<float> buffer(2, block);
        juce::MidiBuffer midi;
        std::size_t at = 0;
        auto next = std::chrono::steady_clock::now();
        while (!stop)
        {
            if (at + block > scene.spot[0].size()) at = 0;
            buffer.copyFrom(0, 0, scene.spot[0].data() + at, block);
            buffer.copyFrom(1, 0, scene.room[0].data() + at, block);
            {
                const juce::ScopedLock lock(processor.getCallbackLock());
                processor.processBlock(buffer, midi);
            }
            at += block;
            next += std::chrono::microseconds(std::lround(1e6 * block / scene.sampleRate));
            std::this_thread::sleep_until(next);
        }
    }

    Processor& processor;
    hall::Scene scene;
    std::atomic<bool> stop{false};
    std::thread thread;
};

/// Prints what has changed, as "name value".
class Teller : private juce::Timer
{
public:
    explicit Teller(Processor& plugin) : processor(plugin) { startTimerHz(30); }

private:
    void timerCallback() override
    {
        static constexpr const char* phases[] = {"measuring", "settled", "frozen"};
        const auto controls = processor.parameters.controls();
        const auto held = processor.engine().held();
        tell("phase", phases[static_cast<int>(processor.engine().phase())]);
        tell("hear", controls.aligned ? "aligned" : "recorded");
        tell("lean", juce::String(controls.lean * 1e3, 1));
        tell("blend", controls.blend ? "on" : "off");
        tell("lag", held ? juce::String(held->side[0].lag * 1e3, 3) : juce::String("none"));
        tell("polarity", held && held->side[0].polarity == Polarity::inverted ? "inverted" : "normal");
        const auto trial = processor.trial().values(controls);
        tell("trial", trial.matching  ? juce::String("matching")
                      : trial.running ? juce::String(trial.answered) + " answered, hearing " + "XAB"[int(trial.hearing)]
                      : trial.finished ? juce::String("finished")
                                       : juce::String("none"));
        tell("recall", recallLineOf(processor));
        tell("clipboard", juce::SystemClipboard::getTextFromClipboard().upToFirstOccurrenceOf("\n", false, false));
        for (const auto& [key, value] : processor.screen.all()) tell("screen-" + key, value);
    }
    void tell(const std::string& name, const juce::String& value)
    {
        if (told[name] == value) return;
        told[name] = value;
        std::cout << name << " " << value << std::endl; // a line at a time: somebody waits for it
    }

    Processor& processor;
    std::map<std::string, juce::String> told;
};

/// An application, because JUCE minds errors of the X server only in one.
class Application : public juce::JUCEApplication
{
public:
    const juce::String getApplicationName() override { return "editor-window"; }
    const juce::String getApplicationVersion() override { return "0"; }
    bool moreThanOneInstanceAllowed() override { return true; }

    void initialise(const juce::String&) override
    {
        const auto arguments = getCommandLineParameterArray();
        hall::SceneSpec spec;
        if (!arguments.isEmpty()) spec.name = arguments[0].toStdString();
        if (arguments.size() > 1) spec.seed = static_cast<unsigned>(arguments[1].getIntValue());
        spec.distance = 10.7;
        try
        {
            player = std::make_unique<Player>(processor, hall::makeScene(spec));
        }
        catch (const std::exception& error)
        {
            std::cerr << "editor-window: " << error.what() << "\n";
            setApplicationReturnValue(2);
            quit();
            return;
        }
        processor.editorMaker = makeEditor;
        editor.reset(processor.createEditorIfNeeded());
        editor->setSize(640, 400); // what drive.sh clicks at
        editor->setTopLeftPosition(0, 0);
        editor->addToDesktop(juce::ComponentPeer::windowAppearsOnTaskbar);
        editor->setVisible(true);
        teller = std::make_unique<Teller>(processor);
        input = std::thread(
            []
            {
                while (std::cin.get() != std::char_traits<char>::eof())
                {
                }
                juce::MessageManager::callAsync([] { quit(); });
            });
    }

    void shutdown() override
    {
        if (input.joinable()) input.join();
        player.reset();
        teller.reset();
        editor.reset();
    }

private:
    Processor processor;
    std::unique_ptr<juce::AudioProcessorEditor> editor;
    std::unique_ptr<Player> player;
    std::unique_ptr<Teller> teller;
    std::thread input;
};

juce::JUCEApplicationBase* makeApplication()
{
    return new Application;
}
} // namespace

int main(int argc, char* argv[])
{
    juce::JUCEApplicationBase::createInstance = &makeApplication;
    return juce::JUCEApplicationBase::main(argc, const_cast<const char**>(argv));
}
