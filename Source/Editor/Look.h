#pragma once
#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The colours of one theme. Spot and room are orange and blue, which the common kinds of colour blindness tell apart;
/// the spot is always filled, the room always outlined, and each verdict has a shape and a word beside its colour, so
/// that no colour carries a meaning alone.
struct Theme
{
    juce::Colour ground;  ///< behind everything
    juce::Colour panel;   ///< behind pictures
    juce::Colour control; ///< behind what can be pressed
    juce::Colour line;    ///< hairlines, never text
    juce::Colour ink;     ///< text, and the fill of what is chosen
    juce::Colour dim;     ///< lesser text
    juce::Colour spot;
    juce::Colour room;
    juce::Colour caution; ///< what is to be minded; the verdict `unsure`
    juce::Colour good;    ///< the verdict `align`, and what went well
    juce::Colour leave;   ///< the verdict `leave`
    juce::Colour wrong;   ///< what failed; a fault of the input
    juce::Colour focus;   ///< ring around what has the keyboard

    static Theme dark();
    static Theme light();
};

/// Contrast of two opaque colours, 1 to 21 (WCAG 2.2, "contrast ratio" over "relative luminance").
[[nodiscard]] double contrast(juce::Colour, juce::Colour);

/// Colours, fonts and the drawing of plain controls (Look.cpp), and of what JUCE draws around them (LookWindows.cpp).
/// Owned by the editor; in a host, never the application's default.
class Look : public juce::LookAndFeel_V4
{
public:
    explicit Look(bool isDark);
    ~Look() override;

    void setDark(bool isDark);
    [[nodiscard]] bool isDark() const { return dark; }
    [[nodiscard]] const Theme& theme() const { return current; }

    /// The look that `component` is drawn with; the dark one where it has no parent yet.
    [[nodiscard]] static const Theme& of(const juce::Component& component);

    /// Of our own type, which is built in: a line that fits here fits on every machine. Its figures are all of one
    /// width.
    [[nodiscard]] static juce::Font font(float size, bool bold = false);
    /// The three sizes of type: the em in pixels at 100 %.
    static constexpr float small = 12.0F, heading = 17.0F, figures = 36.0F;
    static constexpr int line = 15; ///< px from one line of small type to the next
    static constexpr float corner = 3.0F;
    /// A button with this property set to true is the one that is due next: it is lit.
    static constexpr const char* due = "due";
    /// With this one: something out of the ordinary is set here.
    static constexpr const char* marked = "marked";

    /// One line of text; every line on the screen is written here (TextAudit).
    static void write(juce::Graphics&, const juce::String&, juce::Rectangle<float>, juce::Justification);
    static void write(juce::Graphics& g, const juce::String& text, juce::Rectangle<int> area, juce::Justification where)
    {
        write(g, text, area.toFloat(), where);
    }

    /// A paragraph, its words kept together with their units.
    [[nodiscard]] static juce::TextLayout paragraph(const juce::String&, int width, juce::Colour, float size = small);
    /// As much of a text as fits, with dots in the middle where something was left out: endings can be read.
    [[nodiscard]] static juce::String shortened(const juce::String&, const juce::Font&, int width);

    /// The spot's sign: a filled triangle that points down at (x, y). The room's: an outlined one that points up.
    static void drawSpotMark(juce::Graphics&, float x, float y, float size, juce::Colour);
    static void drawRoomMark(juce::Graphics&, float x, float y, float size, juce::Colour);
    static void drawFocus(juce::Graphics&, const juce::Component&, juce::Colour);

    /// The outermost component around this one that still has this look: what a file chooser has to lie in.
    [[nodiscard]] static juce::Component* within(juce::Component&);
    /// Its ground in our colour as well, once it is shown in there: JUCE asks before the look can be known.
    static void dressChooser(const juce::Component& in);

    void drawButtonBackground(juce::Graphics&, juce::Button&, const juce::Colour&, bool over, bool down) override;
    void drawButtonText(juce::Graphics&, juce::TextButton&, bool over, bool down) override;
    juce::Font getTextButtonFont(juce::TextButton&, int height) override;
    void drawLabel(juce::Graphics&, juce::Label&) override;
    void drawToggleButton(juce::Graphics&, juce::ToggleButton&, bool over, bool down) override;
    void drawLinearSlider(juce::Graphics&, int x, int y, int w, int h, float pos, float min, float max,
                          juce::Slider::SliderStyle, juce::Slider&) override;
    juce::Slider::SliderLayout getSliderLayout(juce::Slider&) override;
    juce::Label* createSliderTextBox(juce::Slider&) override;
    void drawComboBox(juce::Graphics&, int w, int h, bool down, int bx, int by, int bw, int bh,
                      juce::ComboBox&) override;
    void drawComboBoxTextWhenNothingSelected(juce::Graphics&, juce::ComboBox&, juce::Label&) override;
    juce::Font getComboBoxFont(juce::ComboBox&) override;
    void positionComboBoxText(juce::ComboBox&, juce::Label&) override;
    juce::Font getPopupMenuFont() override;
    juce::Font getAlertWindowTitleFont() override { return font(heading, true); }
    juce::Font getAlertWindowMessageFont() override { return font(small); }
    juce::Font getAlertWindowFont() override { return font(small); }
    void drawFileBrowserRow(juce::Graphics&, int w, int h, const juce::File&, const juce::String& name,
                            juce::Image* icon, const juce::String& size, const juce::String& time, bool isFolder,
                            bool isChosen, int index, juce::DirectoryContentsDisplayComponent&) override;
    juce::Typeface::Ptr getTypefaceForFont(const juce::Font&) override;
    void drawCornerResizer(juce::Graphics&, int w, int h, bool over, bool dragging) override;
    void drawTooltip(juce::Graphics&, const juce::String&, int w, int h) override;
    juce::Rectangle<int> getTooltipBounds(const juce::String&, juce::Point<int>, juce::Rectangle<int>) override;

private:
    struct Faces;
    void applyColours();

    juce::SharedResourcePointer<Faces> faces; // alive as long as anything is drawn with them
    bool dark = true;
    Theme current;
};
} // namespace tarry
