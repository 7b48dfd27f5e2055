#include "Plugin/Presets.h"

#include "Core/Controls/SettingTable.h"
#include "Support/Catch.h"

#include <cmath>
#include <random>
#include <set>

using namespace tarry;

namespace
{
const Preset& own(const std::string& name)
{
    for (const auto& preset : ownPresets())
        if (preset.name == name) return preset;
    throw std::invalid_argument("no preset named " + name);
}

std::string complaint(const std::string& text)
{
    try
    {
        (void)readPreset(text, "mine.tarry");
    }
    catch (const PresetError& error)
    {
        return error.what();
    }
    return "nothing was wrong";
}
} // namespace

TEST_CASE("presets: one for each usual job, in this order, each with a word on when to take it")
{
    std::vector<std::string> names;
    for (const auto& preset : ownPresets()) names.push_back(preset.name);
    CHECK(names == std::vector<std::string>{"Hard sticks", "Low drums, polarity first", "Clap at the instrument",
                                            "Roll and swells", "Room leads by 10 ms",
                                            "Full ensemble: leave as recorded", "Late spot"});
    for (const auto& file : ownPresetFiles())
    {
        INFO(file.name);
        CHECK(std::string(file.text).starts_with("# "));
        CHECK(std::string(file.name).ends_with(presetEnding));
    }
}

TEST_CASE("presets: each sets what its name says, and all set the same settings, so that none lingers")
{
    CHECK(own("Room leads by 10 ms").values.at("lean") == 10.0);
    CHECK(own("Clap at the instrument").values.at("clap") == 1.0);
    CHECK(own("Full ensemble: leave as recorded").values.at("aligned") == 0.0);
    CHECK(own("Full ensemble: leave as recorded").values.at("freezeWhenSettled") == 0.0);
    CHECK(own("Low drums, polarity first").values.at("freezeWhenSettled") == 0.0);
    CHECK(own("Late spot").values.at("lookAhead") == 20.0);
    CHECK(own("Roll and swells").values.at("reach") == 60.0);
    for (const auto& preset : ownPresets())
    {
        INFO(preset.name);
        std::set<std::string> ids;
        for (const auto& [id, value] : preset.values) ids.insert(id);
        CHECK(ids == std::set<std::string>{"aligned", "clap", "eachSide", "freezeWhenSettled", "lean", "lookAhead",
                                           "reach", "roomChannel", "wholeSamples"}); // not the air, which is the day's
        for (const auto* never : {"blend", "bypass", "measure"}) CHECK_FALSE(preset.values.contains(never));
    }
}

TEST_CASE("presets: what is written is read back, whatever the values")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    const auto steps = [&](int least, int most, double step)
    { return std::uniform_int_distribution<int>(least, most)(random) * step; };
    const auto toss = [&] { return random() % 2 == 0; };
    for (int i = 0; i < 1000; ++i)
    {
        Preset preset;
        preset.name = toss() ? "Mine, no. " + std::to_string(random() % 1000) : "Gro\xC3\x9F = laut # 2";
        preset.values["reach"] = steps(5, 200, 1.0);
        for (const auto& setting : settingTable())
            if (setting.kept != Setting::Kept::momentary && toss())
                preset.values[std::string(setting.id)] =
                    setting.snapped(std::uniform_real_distribution<double>(setting.least, setting.most)(random));
        const auto text = writePreset(preset);
        INFO(text);
        REQUIRE(readPreset(text, "mine.tarry") == preset);
        std::string windows;
        for (const char c : text) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
        REQUIRE(readPreset("\xEF\xBB\xBF" + windows, "mine.tarry") == preset); // as another editor saves it
    }
}

TEST_CASE("presets: written by hand, loosely; a file without a name goes by the file's")
{
    const auto preset = readPreset("  lean=+7.5ms\n\n# a remark\n\tair =  18 C\nhear = as recorded", "my hall.tarry");
    CHECK(preset.name == "my hall");
    CHECK(preset.values == std::map<std::string, double>{{"lean", 7.5}, {"aligned", 0.0}, {"temperature", 18.0}});
    CHECK(readPreset("reach = 60", "x").values.at("reach") == 60.0); // the unit goes without saying
    CHECK(readPreset("reach = 60", "x").name == "x");
    CHECK(asPresetName(" a\nb\t ") == "ab");
    CHECK(asPresetName("\n") == "Preset");
}

TEST_CASE("presets: a broken file gives one line that names the file and the line")
{
    CHECK(complaint("name = x\n\nlean = 99 ms\n") ==
          "mine.tarry, line 3: 'lean' goes from -20 to 30 ms, not to '99 ms'.");
    CHECK(complaint("leen = 3 ms") == "mine.tarry, line 1: there is no setting 'leen'.");
    CHECK(complaint("# x\nlean 3 ms") == "mine.tarry, line 2: 'lean 3 ms' is no setting: a line reads 'lean = 8 ms'.");
    CHECK(complaint("lean = some") ==
          "mine.tarry, line 1: 'some' is no value of 'lean': write a number from -20 to 30 ms.");
    CHECK(complaint("whole samples = perhaps") ==
          "mine.tarry, line 1: 'perhaps' is no value of 'whole samples': write one of no, yes.");
    CHECK(complaint("lean = 1 ms\nlean = 2 ms") == "mine.tarry, line 2: 'lean' is set twice, first in line 1.");
    CHECK(complaint("name = \nlean = 1 ms") == "mine.tarry, line 1: the name is empty.");
    CHECK(complaint("") == "mine.tarry, line 1: the file ends and sets nothing.");
    CHECK(complaint("# nothing\nname = x\n") == "mine.tarry, line 2: the file ends and sets nothing.");
    for (const auto* value : {"nan", "inf", "1e999", "8 dB", "8,5 ms", ""})
    {
        INFO(value);
        CHECK(complaint(std::string("lean = ") + value).find("mine.tarry, line 1: ") == 0);
    }
    // Neither lag nor polarity, and nothing that is only for a moment, can be set by a file.
    for (const auto* never : {"lag", "polarity", "blend", "bypass", "measure"})
        CHECK(complaint(std::string(never) + " = 1").find("there is no setting") != std::string::npos);
}

TEST_CASE("presets: no stranger's file breaks the reader or its one line")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    for (int i = 0; i < 3000; ++i)
    {
        std::string bytes = i % 2 == 0 ? std::string(ownPresetFiles()[random() % ownPresetFiles().size()].text)
                                       : std::string(random() % 300, ' ');
        for (std::size_t n = 0; n < 1 + bytes.size() / 8; ++n)
            if (!bytes.empty()) bytes[random() % bytes.size()] = static_cast<char>(random() % 256);
        const auto said = complaint(bytes);
        if (said == "nothing was wrong") continue;
        CHECK(said.find("mine.tarry, line ") == 0);
        for (const char c : said) REQUIRE((c >= ' ' && c <= '~'));
    }
}
