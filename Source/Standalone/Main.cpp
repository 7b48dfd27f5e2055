#include "Core/Ground/Version.h"
#include "Plugin/Keeping.h"
#include "Standalone/Window.h"

#include <iostream>

namespace tarry::standalone
{
namespace
{
constexpr const char* usage = "Usage: tarry-standalone [--silent] [--version] [SPOT ROOM]\n"
                              "Opens two sound files and plays them in a loop through Tarry.\n"
                              "  --silent  no sound device: measuring, freezing and printing work all the same;\n"
                              "            without a screen the files are measured and the recall line is written\n"
                              "  --version version and build\n"
                              "The command 'tarry' does the same without a window.\n";

class App final : public juce::JUCEApplication, private juce::Timer
{
public:
    const juce::String getApplicationName() override { return "Tarry"; }
    const juce::String getApplicationVersion() override { return version(); }
    bool moreThanOneInstanceAllowed() override { return true; }

    void initialise(const juce::String&) override
    {
        bool silent = false;
        juce::StringArray files;
        for (const auto& argument : getCommandLineParameterArray())
        {
            if (argument == "--silent")
                silent = true;
            else if (argument == "--help" || argument == "-h")
            {
                std::cout << usage;
                return quit();
            }
            else if (argument == "--version")
            {
                std::cout << "tarry-standalone " << versionAndBuild() << "\n";
                return quit();
            }
            else if (argument.startsWith("--"))
                return refuse("unknown option '" + argument + "'");
            else
                files.add(juce::File::getCurrentWorkingDirectory().getChildFile(argument).getFullPathName());
        }
        if (!files.isEmpty() && files.size() != 2) return refuse("name two files, the spot and the room");
        const bool hasScreen = !juce::Desktop::getInstance().getDisplays().displays.isEmpty();
        if (!hasScreen && !(silent && files.size() == 2))
        {
            std::cerr << "tarry-standalone: there is no screen to open a window on: set DISPLAY, or measure two files "
                         "with --silent or with the command tarry\n";
            setApplicationReturnValue(2);
            return quit();
        }

        juce::PropertiesFile::Options options;
        options.applicationName = "Tarry";
        options.folderName = ".config/Tarry";
        options.filenameSuffix = ".settings";
        options.osxLibrarySubFolder = "Application Support";
        saved = std::make_unique<juce::PropertiesFile>(options);

        desk = std::make_unique<Desk>();
        for (const auto* key : {"colours", "unit", "view", "hits", "width", "height", "scale"})
            if (saved->containsKey(key)) desk->processor.screen.set(key, saved->getValue(key).toStdString());
        desk->start(saved->getXmlValue("device").get(), silent);
        if (hasScreen)
            window = std::make_unique<Window>(*desk);
        else
            startTimer(20); // ms
        if (files.size() == 2)
        {
            desk->open(Role::spot, juce::File(files[0]));
            desk->open(Role::room, juce::File(files[1]));
        }
    }

    void shutdown() override
    {
        window.reset();
        if (desk != nullptr)
        {
            // How it looks and sounds is kept, and nothing that was measured: the next files are others.
            for (const auto& [key, value] : desk->processor.screen.all())
                saved->setValue(juce::String(key), juce::String(value));
            if (const auto device = desk->sound.manager().createStateXml()) saved->setValue("device", device.get());
        }
        desk.reset();
        saved.reset();
    }

    void systemRequestedQuit() override { quit(); }

private:
    /// Without a screen: says what is held as soon as anything is, or what was found when the files have been played
    /// once.
    void timerCallback() override
    {
        const bool isHeld = desk->processor.engine().phase() == Phase::frozen || desk->message().isComplaint;
        waited = desk->isBusy() ? 0.0 : waited + getTimerInterval() / 1000.0;
        if (desk->isBusy() || (!isHeld && waited < desk->duration() + 1.0)) return;
        stopTimer();
        if (desk->message().isComplaint)
        {
            std::cerr << "tarry-standalone: " << desk->message().text << "\n";
            setApplicationReturnValue(2);
        }
        else
            std::cout << recallLineOf(desk->processor) << "\n";
        quit();
    }

    void refuse(const juce::String& what)
    {
        std::cerr << "tarry-standalone: " << what << "\n" << usage;
        setApplicationReturnValue(2);
        quit();
    }

    double waited = 0.0; // s
    std::unique_ptr<juce::PropertiesFile> saved;
    std::unique_ptr<Desk> desk;
    std::unique_ptr<Window> window;
};
} // namespace
} // namespace tarry::standalone

START_JUCE_APPLICATION(tarry::standalone::App)
