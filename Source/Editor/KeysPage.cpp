#include "Editor/KeysPage.h"

#include "Editor/Look.h"

#include <array>

namespace tarry
{
namespace
{
struct Key
{
    const char *name, *act;
};

constexpr std::array<Key, 21> keys{{{"A", "as recorded or aligned"},
                                    {"B", "blend in the room"},
                                    {"F", "freeze"},
                                    {"M", "measure again"},
                                    {"P", "apply what is measured"},
                                    {"O", "apply what is offered"},
                                    {"L", "lock, unlock"},
                                    {"Z", "undo"},
                                    {"shift Z", "redo"},
                                    {"+  \u2212", "zoom"},
                                    {"0", "both attacks in view"},
                                    {",  .", "scroll"},
                                    {"left, right", "hit by hit (picture)"},
                                    {"H", "hits by lag or by time"},
                                    {"Esc", "the best hit; the picture"},
                                    {"left, right", "nudge (on the lag)"},
                                    {"shift", "ten steps at once"},
                                    {"Return", "type a value"},
                                    {"Del", "measured lag; default"},
                                    {"Tab", "to the next control"},
                                    {"?", "these keys"}}};

constexpr int rowHeight = 19, keyWidth = 68;
} // namespace

KeysPage::KeysPage(bool hasHost) : ofSpace(hasHost ? "Space stays the host's: play and stop." : "Space: play and stop.")
{
    setTitle("Keys");
    juce::String spoken;
    for (const auto& key : keys) spoken << juce::String::fromUTF8(key.name) << ": " << key.act << ". ";
    setDescription(spoken + ofSpace);
}

void KeysPage::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const int rows = (static_cast<int>(keys.size()) + 1) / 2;
    const int column = juce::jmin(280, getWidth() / 2);
    for (int i = 0; i < static_cast<int>(keys.size()); ++i)
    {
        const auto& key = keys[static_cast<std::size_t>(i)];
        auto row = juce::Rectangle<int>(i / rows * column, 4 + i % rows * rowHeight, column - 6, rowHeight);
        g.setFont(Look::font(Look::small, true));
        g.setColour(theme.ink);
        Look::write(g, juce::String::fromUTF8(key.name), row.removeFromLeft(keyWidth),
                    juce::Justification::centredLeft);
        g.setFont(Look::font(Look::small));
        g.setColour(theme.dim);
        Look::write(g, key.act, row, juce::Justification::centredLeft);
    }
    g.setFont(Look::font(Look::small));
    g.setColour(theme.dim);
    Look::write(g, ofSpace, getLocalBounds().withTop(8 + rows * rowHeight).withHeight(rowHeight),
                juce::Justification::centredLeft);
}
} // namespace tarry
