// Both modules in a host that does everything in random order. What a validator of plugins asks is among it; Debian has
// none to run.
#include "Support/Catch.h"
#include "Support/HowMany.h"
#include "Support/Process.h"
#include "Support/Skip.h"

using namespace tarry::test;

namespace
{
void survive(std::vector<std::string> before, const std::vector<std::string>& plugins, bool opensEditors)
{
    const std::string acts = std::to_string(howMany("TARRY_ACTS", 150));
    for (const std::string& plugin : plugins)
        for (const std::string seed : {"1", "2"})
        {
            const TemporaryFolder home; // a preset may be saved
            auto command = before;
            command.insert(command.end(),
                           {"/usr/bin/env", "HOME=" + home.path().string(), TARRY_RESTLESS, plugin, seed, acts});
            const auto result = runProgram(command);
            INFO(plugin << ", seed " << seed << "\n" << result.output << result.errors);
            CHECK(result.status == 0);
            CHECK((result.output.find("editors 0,") == std::string::npos) == opensEditors);
            CHECK((result.output.find("touches 0,") == std::string::npos) == opensEditors);
        }
}
} // namespace

TEST_CASE("a restless host without a screen: states, presets, layouts and instances come and go, and it plays on")
{
    survive({"/usr/bin/env", "-u", "DISPLAY", "-u", "WAYLAND_DISPLAY"}, {TARRY_VST3, TARRY_LV2}, false);
}

TEST_CASE("a restless host with a screen: editors come and go as well, and are clicked and typed into", "[outside]")
{
    // The VST3 alone: JUCE 7.0.5's host side of an LV2's editor crashes, whatever plugin it shows. XEmbedComponent
    // answers a window's move later, by its address, when it may be gone (handleX11Event, ConfigureNotify).
    const auto screen = findProgram("xvfb-run");
    if (screen.empty() || findProgram("xdotool").empty()) TARRY_SKIP("xvfb-run or xdotool is not installed");
    survive({screen.string(), "-a", "-s", "-screen 0 1600x1200x24"}, {TARRY_VST3}, true);
}
