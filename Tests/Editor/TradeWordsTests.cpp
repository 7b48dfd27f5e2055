#include "Core/Controls/SettingTable.h"
#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

#include <cstring>
#include <set>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// Whether a text has the word in it, as a word of its own, in whatever case.
bool says(const juce::String& text, const char* word)
{
    const auto all = text.toLowerCase();
    for (int at = all.indexOf(word); at >= 0; at = all.indexOf(at + 1, word))
    {
        const auto isLetter = [&](int i)
        { return i >= 0 && i < all.length() && juce::CharacterFunctions::isLetter(all[i]); };
        if (!isLetter(at - 1) && !isLetter(at + static_cast<int>(std::strlen(word)))) return true;
    }
    return false;
}

/// Everything that is written on the screen, or said of it by tooltips and to screen readers.
std::set<juce::String> everyWord()
{
    std::set<juce::String> words;
    for (const auto& [name, model] : madeUpModels())
        for (int page = 0; page < pageCount; ++page)
        {
            Screen screen(model);
            screen.body->setSize(1600, 1000);
            screen.body->setPage(static_cast<Body::Page>(page));
            TextAudit audit;
            CHECK_FALSE(screen.picture(1.0F).isNull());
            for (const auto& line : audit.written) words.insert(line.text);
            eachVisible(*screen.body,
                        [&](juce::Component& c)
                        {
                            for (const auto& text : {c.getTitle(), c.getDescription(), c.getHelpText()})
                                words.insert(text);
                            if (auto* client = dynamic_cast<juce::TooltipClient*>(&c))
                                words.insert(client->getTooltip());
                            if (auto* button = dynamic_cast<juce::Button*>(&c)) words.insert(button->getButtonText());
                        });
        }
    for (const auto& setting : settingTable())
        for (const auto word : {setting.hostName, setting.id})
            words.insert(juce::String::fromUTF8(word.data(), static_cast<int>(word.size())));
    return words;
}
} // namespace

TEST_CASE("Words: none on the screen or in the host's list means something else in the trade", "[editor]")
{
    CHECK(says("Listen again.", "listen"));
    CHECK_FALSE(says("a glistening hall", "listen"));
    const auto words = everyWord();
    CHECK(words.size() > 200);
    for (const auto& text : words)
    {
        INFO(text);
        // A side-chain's monitor, and solo on a console: here one measures.
        CHECK_FALSE(says(text, "listen"));
        CHECK_FALSE(says(text, "listening"));
        // An acoustic measure of ISO 3382 (C50, C80): here it is 'clear by'.
        CHECK_FALSE(says(text, "clarity"));
        // A recording, never an act: here one applies. The name of one is asked for in a field of its own.
        CHECK(text.trim() != "Take");
        CHECK_FALSE(text.startsWith("Take "));
    }
}
