#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>

using namespace tarry::test;

namespace
{
/// Errors that lv2_validate counts in a bundle; -1 where it says nothing of the kind.
int validationErrors(const std::filesystem::path& validator, const std::filesystem::path& bundle, std::string& words)
{
    std::vector<std::string> command{validator.string()};
    for (const auto& entry : std::filesystem::directory_iterator(bundle))
        if (entry.path().extension() == ".ttl") command.push_back(entry.path().string());
    const auto result = runProgram(command);
    words = result.output + result.errors;
    std::smatch found;
    if (!std::regex_search(words, found, std::regex("Found ([0-9]+) errors? among"))) return -1;
    return std::stoi(found[1].str());
}
} // namespace

TEST_CASE("lv2_validate finds no more in our bundle than in a bare plugin of JUCE's", "[outside]")
{
    TARRY_NEED_PROGRAM(validator, "lv2_validate");
    std::string words;
    const int bare = validationErrors(validator, TARRY_BARE_LV2, words);
    INFO(words);
    REQUIRE(bare >= 0);
    const int ours = validationErrors(validator, TARRY_LV2, words);
    INFO("ours " << ours << ", bare " << bare << "\n" << words);
    REQUIRE(ours >= 0);
    CHECK(ours <= bare);
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
