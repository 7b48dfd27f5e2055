// Both modules in a host that does everything in random order. What a validator of plugins asks is among it; Debian has
// none to run.
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <cstdlib>

using namespace tarry::test;

namespace
{
void survive(std::vector<std::string> before, const std::vector<std::string>& plugins, bool opensEditors)
{
    const char* set = std::getenv("TARRY_ACTS"); // more of them in cmake/deep-check.sh
    for (const std::string& plugin : plugins)
        for (const std::string seed : {"1", "2"})
        {
            auto command = before;
            command.insert(command.end(), {TARRY_RESTLESS, plugin, seed, set != nullptr ? set : "150"});
            const auto result = runProgram(command);
            INFO(plugin << ", seed " << seed << "\n" << result.output << result.errors);
            CHECK(result.status == 0);
            CHECK((result.output.find("editors 0,") == std::string::npos) == opensEditors);
        }
}
} // namespace

TEST_CASE("a restless host without a screen: states, presets, layouts and instances come and go, and it plays on")
{
    survive({"/usr/bin/env", "-u", "DISPLAY", "-u", "WAYLAND_DISPLAY"}, {TARRY_VST3, TARRY_LV2}, false);
}

TEST_CASE("a restless host with a screen: editors come and go as well", "[outside]")
{
    // The VST3 alone: JUCE 7.0.5's host side of an LV2's editor crashes, whatever plugin it shows. XEmbedComponent
    // answers a window's move later, by its address, when it may be gone (handleX11Event, ConfigureNotify).
    TARRY_NEED_PROGRAM(screen, "xvfb-run");
    survive({screen.string(), "-a", "-s", "-screen 0 1600x1200x24"}, {TARRY_VST3}, true);
}
