#include "Editor/Look.h"

#include "Editor/TextAudit.h"

#ifdef TARRY_OWN_TYPE
#include "EditorType.h"
#endif

#include <cmath>

namespace tarry
{
/// The type that is built in; where it is not, the machine's own.
struct Look::Faces
{
#ifdef TARRY_OWN_TYPE
    juce::Typeface::Ptr plain = juce::Typeface::createSystemTypefaceFor(type::RobotoCondensedRegular_ttf,
                                                                        type::RobotoCondensedRegular_ttfSize),
                        bold = juce::Typeface::createSystemTypefaceFor(type::RobotoCondensedBold_ttf,
                                                                       type::RobotoCondensedBold_ttfSize);
#else
    juce::Typeface::Ptr plain, bold;
#endif
};

Theme Theme::dark()
{
    Theme theme;
    theme.ground = juce::Colour(0xff17191c);
    theme.panel = juce::Colour(0xff1e2125);
    theme.control = juce::Colour(0xff2b2f35);
    theme.line = juce::Colour(0xff444a52);
    theme.ink = juce::Colour(0xffece9e2);
    theme.dim = juce::Colour(0xffadaeab);
    theme.spot = juce::Colour(0xfff0a458);
    theme.room = juce::Colour(0xff82bbec);
    theme.caution = juce::Colour(0xffe6c860);
    theme.good = juce::Colour(0xff8ed6a4);
    theme.leave = juce::Colour(0xffcdb4f2);
    theme.wrong = juce::Colour(0xffff9a8f);
    theme.focus = juce::Colour(0xffffffff);
    return theme;
}

Theme Theme::light()
{
    Theme theme;
    theme.ground = juce::Colour(0xfff6f3ed);
    theme.panel = juce::Colour(0xffedeae2);
    theme.control = juce::Colour(0xffdfdbd1);
    theme.line = juce::Colour(0xffb9b3a6);
    theme.ink = juce::Colour(0xff1b1c1e);
    theme.dim = juce::Colour(0xff505257);
    theme.spot = juce::Colour(0xff963f00);
    theme.room = juce::Colour(0xff004f91);
    theme.caution = juce::Colour(0xff664b00);
    theme.good = juce::Colour(0xff145a32);
    theme.leave = juce::Colour(0xff553092);
    theme.wrong = juce::Colour(0xff9b1c12);
    theme.focus = juce::Colour(0xff000000);
    return theme;
}

double contrast(juce::Colour a, juce::Colour b)
{
    const auto luminance = [](juce::Colour colour)
    {
        const auto linear = [](float channel)
        {
            const auto c = static_cast<double>(channel);
            return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
        };
        return 0.2126 * linear(colour.getFloatRed()) + 0.7152 * linear(colour.getFloatGreen()) +
               0.0722 * linear(colour.getFloatBlue());
    };
    const double la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

Look::Look(bool isDark)
{
    setDark(isDark);
}

Look::~Look() = default;

void Look::setDark(bool isDark)
{
    dark = isDark;
    current = isDark ? Theme::dark() : Theme::light();
    applyColours();
}

const Theme& Look::of(const juce::Component& component)
{
    static const Theme fallback = Theme::dark();
    const auto* look = dynamic_cast<Look*>(&component.getLookAndFeel());
    return look != nullptr ? look->current : fallback;
}

juce::Font Look::font(float size, bool bold)
{
    const juce::SharedResourcePointer<Faces> type;
    const auto& face = bold ? type->bold : type->plain;
    const auto font = face != nullptr
                          ? juce::Font(face)
                          : juce::Font(juce::Font::getDefaultSansSerifFontName(), size, bold ? juce::Font::bold : 0);
    return font.withPointHeight(size); // the em, as type is measured; JUCE's own height is that of a line
}

/// What JUCE draws by itself, in our type as well.
juce::Typeface::Ptr Look::getTypefaceForFont(const juce::Font& wanted)
{
    const bool isPlainSans = wanted.getTypefaceName() == juce::Font::getDefaultSansSerifFontName();
    const auto& face = wanted.isBold() ? faces->bold : faces->plain;
    return isPlainSans && face != nullptr ? face : LookAndFeel_V4::getTypefaceForFont(wanted);
}

juce::TextLayout Look::paragraph(const juce::String& text, int width, juce::Colour colour, float size)
{
    const auto space = juce::String::charToString(0xa0);
    auto kept = text;
    for (const auto* unit : {"ms", "dB", "%", "hits", "samples", "m", "ft"})
        for (const auto* after : {" ", ".", ",", ";", ":", ")"})
            kept = kept.replace(juce::String(" ") + unit + after, space + unit + after);
    juce::AttributedString string;
    string.append(kept, font(size), colour);
    string.setWordWrap(juce::AttributedString::byWord);
    juce::TextLayout layout;
    layout.createLayout(string, static_cast<float>(width));
    return layout;
}

juce::String Look::shortened(const juce::String& text, const juce::Font& font, int width)
{
    auto kept = text;
    for (int n = text.length() - 1; font.getStringWidth(kept) > width && n > 2; --n)
        kept = text.substring(0, n - n / 2) + juce::String::charToString(0x2026) + text.getLastCharacters(n / 2);
    return kept;
}

void Look::write(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, juce::Justification where)
{
    TextAudit::note(g.getCurrentFont(), text, area, where);
    g.drawText(text, area, where, false);
}

void Look::drawSpotMark(juce::Graphics& g, float x, float y, float size, juce::Colour colour)
{
    juce::Path path;
    path.addTriangle(x - size * 0.5F, y - size, x + size * 0.5F, y - size, x, y);
    g.setColour(colour);
    g.fillPath(path);
}

void Look::drawRoomMark(juce::Graphics& g, float x, float y, float size, juce::Colour colour)
{
    juce::Path path;
    path.addTriangle(x - size * 0.5F, y + size, x + size * 0.5F, y + size, x, y);
    g.setColour(colour);
    g.strokePath(path, juce::PathStrokeType(1.4F));
}

void Look::drawFocus(juce::Graphics& g, const juce::Component& component, juce::Colour colour)
{
    if (!component.hasKeyboardFocus(true)) return;
    g.setColour(colour);
    g.drawRoundedRectangle(component.getLocalBounds().toFloat().reduced(0.75F), corner, 1.5F);
}

void Look::drawButtonBackground(juce::Graphics& g, juce::Button& button, const juce::Colour&, bool over, bool down)
{
    const auto area = button.getLocalBounds().toFloat();
    const bool isDue = button.isEnabled() && button.getProperties()[due];
    auto fill = button.getToggleState() ? current.ink : current.control;
    if (!button.isEnabled()) fill = current.panel;
    if (isDue) fill = current.control.interpolatedWith(current.good, 0.25F);
    if (over || down)
        fill = fill.interpolatedWith(button.getToggleState() ? current.ground : current.ink, down ? 0.2F : 0.08F);
    g.setColour(fill);
    g.fillRoundedRectangle(area, corner);
    if (isDue || button.getProperties()[marked])
    {
        g.setColour(isDue ? current.good : current.ink);
        g.drawRoundedRectangle(area.reduced(0.75F), corner, 1.5F);
    }
    if (button.hasKeyboardFocus(false))
    {
        // On a chosen (ink) button the ring has to stand off the fill: one line of ground inside one of focus.
        drawFocus(g, button, current.focus);
        if (button.getToggleState())
        {
            g.setColour(current.ground);
            g.drawRoundedRectangle(area.reduced(2.25F), corner - 1.0F, 1.5F);
        }
    }
}

void Look::drawButtonText(juce::Graphics& g, juce::TextButton& button, bool, bool)
{
    g.setFont(getTextButtonFont(button, button.getHeight()));
    g.setColour(!button.isEnabled() ? current.dim : button.getToggleState() ? current.ground : current.ink);
    Look::write(g, button.getButtonText(), button.getLocalBounds().reduced(2, 0), juce::Justification::centred);
}

juce::Font Look::getTextButtonFont(juce::TextButton& button, int)
{
    return font(small, button.getToggleState() || (button.isEnabled() && button.getProperties()[due]));
}

void Look::drawLabel(juce::Graphics& g, juce::Label& label)
{
    if (label.isBeingEdited()) return;
    g.setFont(label.getFont());
    g.setColour(label.isEnabled() ? current.ink : current.dim);
    write(g, label.getText(), label.getBorderSize().subtractedFrom(label.getLocalBounds()),
          label.getJustificationType());
}

void Look::drawToggleButton(juce::Graphics& g, juce::ToggleButton& button, bool over, bool)
{
    const auto area = button.getLocalBounds().toFloat();
    auto box = area.withWidth(14.0F).withSizeKeepingCentre(12.0F, 12.0F).translated(2.0F, 0.0F);
    g.setColour(over && button.isEnabled() ? current.ink : current.dim);
    g.drawRoundedRectangle(box, 2.0F, 1.2F);
    if (button.getToggleState())
    {
        g.setColour(button.isEnabled() ? current.ink : current.dim);
        juce::Path tick;
        tick.startNewSubPath(box.getX() + 2.5F, box.getCentreY());
        tick.lineTo(box.getX() + 5.0F, box.getBottom() - 3.0F);
        tick.lineTo(box.getRight() - 2.5F, box.getY() + 3.0F);
        g.strokePath(tick, juce::PathStrokeType(1.8F));
    }
    g.setColour(button.isEnabled() ? current.ink : current.dim);
    g.setFont(font(small));
    Look::write(g, button.getButtonText(), button.getLocalBounds().withTrimmedLeft(21),
                juce::Justification::centredLeft);
    drawFocus(g, button, current.focus);
}

juce::Slider::SliderLayout Look::getSliderLayout(juce::Slider& slider)
{
    // The number sits at the right of the caption line above the track: it can be clicked and typed into.
    juce::Slider::SliderLayout layout;
    auto area = slider.getLocalBounds();
    layout.textBoxBounds =
        area.removeFromTop(18).removeFromRight(juce::jmin(slider.getTextBoxWidth(), area.getWidth()));
    layout.sliderBounds = area.reduced(7, 0);
    return layout;
}

juce::Label* Look::createSliderTextBox(juce::Slider& slider)
{
    auto* box = LookAndFeel_V4::createSliderTextBox(slider);
    box->setFont(font(small));
    box->setJustificationType(juce::Justification::centredRight);
    box->setBorderSize({0, 0, 0, 1});
    box->setMinimumHorizontalScale(1.0F);
    box->setTitle(slider.getTitle() + ", type a value");
    box->setTooltip("Click to type a value");
    return box;
}

void Look::drawLinearSlider(juce::Graphics& g, int x, int y, int w, int h, float pos, float, float,
                            juce::Slider::SliderStyle, juce::Slider& slider)
{
    const auto track = juce::Rectangle<int>(x, y, w, h).toFloat().withSizeKeepingCentre(static_cast<float>(w), 3.0F);
    const auto zero = static_cast<float>(slider.getPositionOfValue(
        juce::jlimit(slider.getMinimum(), slider.getMaximum(), slider.getDoubleClickReturnValue())));
    g.setColour(current.line);
    g.fillRoundedRectangle(track, 1.5F);
    g.setColour(slider.isEnabled() ? current.ink : current.dim);
    g.fillRect(juce::Rectangle<float>::leftTopRightBottom(std::min(zero, pos), track.getY(), std::max(zero, pos),
                                                          track.getBottom()));
    g.fillRect(zero - 0.75F, track.getCentreY() - 5.0F, 1.5F, 10.0F); // where a double-click returns to
    g.setColour(current.ground);
    g.fillEllipse(juce::Rectangle<float>(15.0F, 15.0F).withCentre({pos, track.getCentreY()}));
    g.setColour(slider.isEnabled() ? current.ink : current.dim);
    g.fillEllipse(juce::Rectangle<float>(11.0F, 11.0F).withCentre({pos, track.getCentreY()}));
    if (slider.hasKeyboardFocus(false))
    {
        g.setColour(current.focus);
        g.drawRoundedRectangle(slider.getLocalBounds().withTrimmedTop(18).toFloat().reduced(0.75F), corner, 1.5F);
    }
}

void Look::drawComboBox(juce::Graphics& g, int w, int h, bool, int, int, int, int, juce::ComboBox& box)
{
    const auto area = juce::Rectangle<int>(w, h).toFloat();
    g.setColour(box.isEnabled() ? current.control : current.panel);
    g.fillRoundedRectangle(area, corner);
    juce::Path arrow;
    const float cx = area.getRight() - 11.0F, cy = area.getCentreY();
    arrow.startNewSubPath(cx - 3.5F, cy - 2.0F);
    arrow.lineTo(cx, cy + 2.0F);
    arrow.lineTo(cx + 3.5F, cy - 2.0F);
    g.setColour(current.dim);
    g.strokePath(arrow, juce::PathStrokeType(1.4F));
    drawFocus(g, box, current.focus);
}

void Look::drawComboBoxTextWhenNothingSelected(juce::Graphics& g, juce::ComboBox& box, juce::Label& label)
{
    g.setColour(current.dim); // JUCE's own halves the ink, and with it the contrast
    g.setFont(label.getFont());
    write(g, box.getTextWhenNothingSelected(), label.getBorderSize().subtractedFrom(label.getLocalBounds()),
          label.getJustificationType());
}

juce::Font Look::getComboBoxFont(juce::ComboBox&)
{
    return font(small);
}

void Look::positionComboBoxText(juce::ComboBox& box, juce::Label& label)
{
    label.setBounds(box.getLocalBounds().withTrimmedRight(18));
    label.setBorderSize({0, 7, 0, 0});
    label.setFont(getComboBoxFont(box));
    label.setMinimumHorizontalScale(1.0F);
}
} // namespace tarry
