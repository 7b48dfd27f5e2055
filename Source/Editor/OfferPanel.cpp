#include "Editor/OfferPanel.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/TextAudit.h"
#include "Editor/Words.h"

namespace tarry
{
namespace
{
constexpr int inset = 7, buttonHeight = 21;
}

OfferPanel::OfferPanel(EditorTarget& target)
{
    setTitle("Offer");
    describe(apply, apply, "Apply the offered lag", "Applies what is offered, and holds it. Key: O.");
    describe(keep, keep, "Keep", "Keeps what is held; the same lag is not offered again.");
    apply.getProperties().set(Look::due, true);
    apply.setButtonText("Apply");
    keep.setButtonText("Keep");
    apply.onClick = [&target] { target.takeOffer(); };
    keep.onClick = [&target] { target.dismissOffer(); };
    addAndMakeVisible(apply);
    addAndMakeVisible(keep);
}

bool OfferPanel::update(const EditorModel& model)
{
    const auto& offered = model.values.offered;
    const auto next = offered ? juce::String::fromUTF8(model.values.offerWords.c_str()) : juce::String();
    for (auto* button : {&apply, &keep}) button->setEnabled(!model.values.locked && !model.trial.running);
    if (next == words) return offered.has_value();
    words = next;
    if (offered) apply.setButtonText("Apply " + lagText(offered->side[0].lag, LagUnit::ms, {}));
    setDescription(words);
    repaint();
    return offered.has_value();
}

void OfferPanel::press()
{
    if (isVisible() && apply.isEnabled()) apply.onClick();
}

void OfferPanel::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto block = getLocalBounds().toFloat();
    g.setColour(theme.panel.interpolatedWith(theme.caution, 0.10F));
    g.fillRoundedRectangle(block, Look::corner);
    g.setColour(theme.caution);
    g.drawRoundedRectangle(block.reduced(0.75F), Look::corner, 1.5F);
    const auto area = getLocalBounds().reduced(inset, 4).withTrimmedBottom(buttonHeight).toFloat();
    const auto lines = Look::paragraph(words, static_cast<int>(area.getWidth()), theme.ink);
    TextAudit::noteLines(words, lines.getHeight(), area);
    lines.draw(g, area);
}

void OfferPanel::resized()
{
    auto row = getLocalBounds().reduced(inset, 5).removeFromBottom(buttonHeight);
    keep.setBounds(row.removeFromRight(48));
    row.removeFromRight(3);
    apply.setBounds(row);
}
} // namespace tarry
