#include "Editor/LevelMeter.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
LevelMeter::LevelMeter(bool isSpot) : spot(isSpot)
{
    setTitle(isSpot ? "Spot level" : "Room level");
    setTooltip(isSpot ? "Level of the spot." : "Level of the room, as it arrives on the side-chain.");
}

void LevelMeter::update(float peak, double seconds)
{
    const float now = peak > 0.0F ? std::max(bottomDb, 20.0F * std::log10(peak)) : bottomDb;
    const float before = level, highestBefore = highest;
    level = std::max(now, level - fallDb * static_cast<float>(seconds));
    level = std::max(level, bottomDb);
    heldFor -= seconds;
    if (level >= highest || heldFor <= 0.0)
    {
        highest = level;
        heldFor = holdSeconds;
    }
    const bool wasClipped = clippedFor > 0.0;
    clippedFor = peak >= 1.0F ? clipSeconds : std::max(0.0, clippedFor - seconds);
    if (std::abs(level - before) < 0.1F && std::abs(highest - highestBefore) < 0.1F && wasClipped == (clippedFor > 0.0))
        return;
    setDescription(highest <= bottomDb ? juce::String("silent")
                                       : signedDb(static_cast<double>(highest)) + " full scale");
    setTooltip((spot ? juce::String("Spot: ") : juce::String("Room, on the side-chain: ")) + getDescription() +
               (clippedFor > 0.0 ? ", clips." : "."));
    repaint();
}

void LevelMeter::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto colour = spot ? theme.spot : theme.room;
    const auto area = getLocalBounds().toFloat().reduced(0.5F);
    const auto column = area.withTrimmedTop(5.0F);
    g.setColour(theme.panel);
    g.fillRect(column);
    const auto y = [&](float db) { return column.getBottom() - (db - bottomDb) / -bottomDb * column.getHeight(); };
    const auto bar = column.withTop(y(std::min(0.0F, level)));
    g.setColour(colour);
    if (level > bottomDb)
    {
        if (spot)
            g.fillRect(bar);
        else
        {
            g.setColour(colour.withAlpha(0.35F));
            g.fillRect(bar);
            g.setColour(colour);
            g.drawRect(bar, 1.2F);
        }
    }
    if (highest > bottomDb) g.fillRect(column.getX(), y(std::min(0.0F, highest)) - 0.75F, column.getWidth(), 1.5F);
    g.setColour(theme.line);
    if (highest <= bottomDb) g.drawRect(column, 1.0F); // empty, and to be seen as such
    if (clippedFor > 0.0)
    {
        g.setColour(theme.wrong);
        g.fillRect(area.withHeight(4.0F));
    }
}
} // namespace tarry
