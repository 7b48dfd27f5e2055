#include "Core/Controls/SettingTable.h"
#include "Core/Controls/Sides.h"

#include "Support/Catch.h"

#include <set>
#include <string>

using namespace tarry;

TEST_CASE("settings: each has an id, a member and words of its own, and a default that it can hold")
{
    std::set<std::string> ids, words, recallKeys;
    bool afterParameters = false;
    for (const auto& setting : settingTable())
    {
        INFO(setting.id);
        CHECK(ids.emplace(setting.id).second);
        CHECK(words.emplace(setting.words).second);
        if (!setting.recallKey.empty()) CHECK(recallKeys.emplace(setting.recallKey).second);
        for (const auto& other : settingTable()) CHECK((&other == &setting) == (other.member == setting.member));
        CHECK(setting.snapped(setting.initial()) == setting.initial());
        CHECK(setting.help.ends_with('.'));
        CHECK(setting.isParameter() == !setting.hostName.empty());
        CHECK_FALSE((afterParameters && setting.isParameter())); // parameters first, in the host's order
        afterParameters = afterParameters || !setting.isParameter();
        CHECK(findSetting(setting.id) == &setting);
        if (setting.kind != Setting::Kind::number)
            for (double value = setting.least; value <= setting.most; ++value)
                CHECK_FALSE(setting.wordOf(value).empty());
    }
    CHECK(findSetting("lag") == nullptr); // what is measured is no setting
}

TEST_CASE("settings: own units on the surface, SI inside, and back to the last bit")
{
    Controls controls;
    Setup setup;
    setting(&Controls::lean).set(controls, setup, 8.0);
    CHECK(controls.lean == 0.008); // not 8 ms nearly
    setting(&Controls::roomChannel).set(controls, setup, 0.0);
    CHECK(controls.roomChannel == -1);
    setting(&Controls::blendGain).set(controls, setup, -20.0);
    CHECK(controls.blendGain == Approx(0.1));
    setting(&Setup::lookAhead).set(controls, setup, 1000.0);
    CHECK(setup.lookAhead == 0.1); // kept in range
    for (const auto& setting : settingTable())
        for (const double share : {0.0, 0.137, 0.5, 0.9, 1.0})
        {
            const double value = setting.snapped(setting.least + share * (setting.most - setting.least));
            setting.set(controls, setup, value);
            INFO(setting.id << " set to " << value << ", reads " << setting.valueIn(controls, setup));
            CHECK(setting.valueIn(controls, setup) == Approx(value).margin(1e-12));
        }
}

TEST_CASE("settings: a number has the unit it is read and typed in, anything else has none")
{
    CHECK(setting(&Controls::lean).unitName() == "ms");
    CHECK(setting(&Controls::blendGain).unitName() == "dB");
    CHECK(setting(&Setup::temperature).unitName() == "C");
    CHECK(setting(&Setup::tape).unitName() == "m");
    for (const auto& one : settingTable())
    {
        INFO(one.id);
        CHECK(one.unitName().empty() == (one.kind != Setting::Kind::number));
    }
}

TEST_CASE("settings: the audio thread sets a parameter among its controls and touches no other")
{
    for (const auto& one : settingTable())
    {
        if (!one.isParameter()) continue;
        INFO(one.id);
        const double other = one.initial() == one.most ? one.least : one.most;
        Controls controls;
        one.set(controls, other);
        CHECK(one.valueIn(controls, {}) == Approx(other).margin(1e-12));
        CHECK_FALSE(controls == Controls{});
        one.set(controls, one.initial());
        for (const auto& any : settingTable())
            CHECK(any.valueIn(controls, {}) == Approx(any.initial()).margin(1e-12)); // all is as it was
    }
}

TEST_CASE("held plus lean: the sum in whole nanoseconds, polarity as held, side by side")
{
    const Sides held{{{{0.031084123, Polarity::inverted}, {0.0295, Polarity::normal}}}};
    const auto applied = leaned(held, -0.0035);
    CHECK(applied.side[0] == Alignment{0.027584123, Polarity::inverted});
    CHECK(applied.side[1] == Alignment{0.026, Polarity::normal});
    CHECK(leaned(held, 0.0) == held);
}
