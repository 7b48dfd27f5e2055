#include "Editor/TextAudit.h"

namespace tarry
{
TextAudit*& TextAudit::current()
{
    static TextAudit* active = nullptr;
    return active;
}

TextAudit::TextAudit()
{
    jassert(current() == nullptr);
    current() = this;
}

TextAudit::~TextAudit()
{
    current() = nullptr;
}

void TextAudit::note(const juce::Font& font, const juce::String& text, juce::Rectangle<float> place,
                     juce::Justification where)
{
    auto* audit = current();
    if (audit == nullptr || text.isEmpty()) return;
    ++audit->lines;
    const float width = font.getStringWidthFloat(text);
    const juce::Rectangle<float> needed(width, font.getHeight());
    audit->written.push_back({text, where.appliedToRectangle(needed, place)});
    // Glyphs may stand a little out of a place that is lower than the font's line, not more.
    if (width > place.getWidth() + 0.5F || font.getHeight() > place.getHeight() + 3.0F)
        audit->cut.add("\"" + text + "\" (" + juce::String(width, 1) + " x " + juce::String(font.getHeight(), 1) +
                       " in " + juce::String(place.getWidth(), 1) + " x " + juce::String(place.getHeight(), 1) + ")");
}

void TextAudit::noteLines(const juce::String& text, float height, juce::Rectangle<float> place)
{
    auto* audit = current();
    if (audit == nullptr || text.isEmpty()) return;
    ++audit->lines;
    audit->written.push_back({text, place.withHeight(height)});
    if (height > place.getHeight() + 0.5F)
        audit->cut.add("\"" + text + "\" (" + juce::String(height, 1) + " high in " +
                       juce::String(place.getHeight(), 1) + ")");
}
} // namespace tarry
