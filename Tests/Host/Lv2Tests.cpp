#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

using namespace tarry::test;

namespace
{
/// What lv2_validate says of a bundle, a line a remark: the error and what it is about, the plugin's own URI left out.
std::vector<std::string> remarks(const std::filesystem::path& validator, const std::filesystem::path& bundle,
                                 const std::string& uri)
{
    std::vector<std::string> command{validator.string()};
    for (const auto& entry : std::filesystem::directory_iterator(bundle))
        if (entry.path().extension() == ".ttl") command.push_back(entry.path().string());
    const auto result = runProgram(command);
    REQUIRE(std::regex_search(result.output + result.errors, std::regex("Found [0-9]+ errors? among")));
    std::istringstream lines(result.output + "\n" + result.errors);
    std::vector<std::string> all;
    for (std::string line; std::getline(lines, line);)
    {
        line = std::regex_replace(line, std::regex(uri), "<plugin>");
        if (line.starts_with("error"))
            all.push_back(line);
        else if (line.starts_with("       ") && !all.empty() && !std::regex_search(line, std::regex("^ +(b?[0-9]+)$")))
            all.back() += " " + line.substr(7);
    }
    std::sort(all.begin(), all.end());
    return all;
}

std::string fileText(const std::string& name)
{
    std::ifstream file(std::filesystem::path(TARRY_LV2) / name);
    REQUIRE(file);
    return {std::istreambuf_iterator<char>(file), {}};
}
} // namespace

TEST_CASE("lv2_validate: nothing of our bundle, whatever it says of a bare plugin of JUCE's", "[outside]")
{
    TARRY_NEED_PROGRAM(validator, "lv2_validate");
    REQUIRE(!remarks(validator, TARRY_BARE_LV2, "urn:tarry:bare").empty()); // it looks
    for (const auto& remark : remarks(validator, TARRY_LV2, TARRY_LV2_URI)) FAIL_CHECK(remark);
}

TEST_CASE("the bundle says what it is, names what a patchbay and a mixer see, and has one bypass")
{
    const auto dsp = fileText("dsp.ttl"), manifest = fileText("manifest.ttl");
    for (const std::string name :
         {"Spot left", "Spot right", "Room left", "Room right", "Spot left out", "Spot right out"})
        CHECK(dsp.find("lv2:name \"" + name + "\"") != std::string::npos);
    CHECK(dsp.find("\"Audio ") == std::string::npos);
    CHECK(dsp.find("a lv2:Plugin , lv2:DelayPlugin , doap:Project ;") != std::string::npos);
    CHECK(dsp.find("doap:license <https://spdx.org/licenses/GPL-3.0-or-later>") != std::string::npos);
    CHECK(dsp.find("lv2:project [") != std::string::npos);
    CHECK(dsp.find("rdfs:comment \"") != std::string::npos);
    CHECK(dsp.find("plug:bypass") == std::string::npos);
    CHECK(dsp.find("lv2:designation lv2:enabled") != std::string::npos);
    CHECK(manifest.find(":preset-hard-sticks>") != std::string::npos);
    CHECK_FALSE(std::regex_search(manifest, std::regex(":preset[0-9]+>")));

    // Every number has a unit or names for its steps, every switch names for its two sides.
    const std::regex parameter("\nplug:(\\w+)\n\ta lv2:Parameter ;");
    int parameters = 0;
    for (auto at = std::sregex_iterator(dsp.begin(), dsp.end(), parameter); at != std::sregex_iterator();
         ++at, ++parameters)
    {
        const auto from = static_cast<std::size_t>(at->position());
        const auto words = dsp.substr(from, dsp.find("\n\n", from + 1) - from);
        INFO(words);
        CHECK((words.find("units:unit") != std::string::npos || words.find("lv2:scalePoint") != std::string::npos));
        // What is a float has limits that are floats: 5.0, not 5 (a rule of lv2lint's).
        if (words.find("atom:Float") != std::string::npos)
            CHECK_FALSE(std::regex_search(words, std::regex("lv2:(default|minimum|maximum) -?[0-9]+\\s")));
    }
    CHECK(parameters >= 11);
    const auto aligned = dsp.substr(dsp.find("\nplug:aligned\n"), 400);
    CHECK(aligned.find("rdfs:label \"As recorded\"") != std::string::npos);
    CHECK(aligned.find("rdfs:label \"Aligned\"") != std::string::npos);
}

TEST_CASE("lv2info sees our URI, a side-chain of two ports, and no optional audio port", "[outside]")
{
    TARRY_NEED_PROGRAM(info, "lv2info");
    const auto folder = std::filesystem::path(TARRY_LV2).parent_path().string();
    ::setenv("LV2_PATH", (folder + ":/usr/lib/lv2").c_str(), 1); // the specifications are there
    const auto result = runProgram({info.string(), TARRY_LV2_URI});
    INFO(result.output << result.errors);
    REQUIRE(result.status == 0);
    const auto count = [&](const std::string& text)
    {
        int times = 0;
        for (auto at = result.output.find(text); at != std::string::npos; at = result.output.find(text, at + 1))
            ++times;
        return times;
    };
    CHECK(count("lv2core#isSideChain") == 2);
    CHECK(count("lv2core#AudioPort") == 6);
    for (std::size_t at = result.output.find("#AudioPort"); at != std::string::npos;
         at = result.output.find("#AudioPort", at + 1))
    {
        const auto end = result.output.find("\n\n", at);
        CHECK(result.output.substr(at, end - at).find("connectionOptional") == std::string::npos);
    }
}

// dcterms:isReplacedBy is what LV2 hosts read of it (lilv_plugin_is_replaced).
TEST_CASE("the URI of the first builds is still found, and says which one replaces it", "[outside]")
{
    TARRY_NEED_PROGRAM(info, "lv2info");
    const std::filesystem::path bundle = TARRY_FORMER_LV2;
    ::setenv("LV2_PATH", (bundle.parent_path().string() + ":/usr/lib/lv2").c_str(), 1);
    const auto result = runProgram({info.string(), TARRY_FORMER_LV2_URI});
    INFO(result.output << result.errors);
    CHECK(result.status == 0);
    std::ifstream file(bundle / "manifest.ttl");
    const std::string manifest{std::istreambuf_iterator<char>(file), {}};
    INFO(manifest);
    CHECK(manifest.find("<http://purl.org/dc/terms/isReplacedBy> <" TARRY_LV2_URI ">") != std::string::npos);
}
