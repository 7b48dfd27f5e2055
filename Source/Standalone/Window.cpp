#include "Standalone/Window.h"

#include "Editor/Body.h"
#include "Standalone/DevicePage.h"
#include "Standalone/Strip.h"

namespace tarry::standalone
{
namespace
{
constexpr int fullWidth = Body::width, fullHeight = Body::height + Strip::height;

/// Strip and editor at one scale; files can be dropped anywhere.
class Content final : public juce::Component, public juce::FileDragAndDropTarget
{
public:
    explicit Content(Desk& wanted) : desk(wanted), strip(wanted), editor(wanted.processor.createEditorIfNeeded())
    {
        editor->setResizable(true, false); // the window has edges of its own
        addAndMakeVisible(strip);
        addAndMakeVisible(*editor);
        strip.onSound = [this] { showSound(); };
        setSize(editor->getWidth(), juce::roundToInt(editor->getWidth() * double(fullHeight) / fullWidth));
    }

    ~Content() override { soundWindow.deleteAndZero(); } // it knows the desk

    void resized() override
    {
        // A window manager may force another shape on us, on a small screen: then there is ground at the sides.
        const double scale =
            std::min(static_cast<double>(getWidth()) / fullWidth, static_cast<double>(getHeight()) / fullHeight);
        const int left = juce::roundToInt((getWidth() - fullWidth * scale) / 2.0);
        const int top = juce::roundToInt(Strip::height * scale);
        strip.setTransform(
            juce::AffineTransform::scale(static_cast<float>(scale)).translated(static_cast<float>(left), 0.0F));
        editor->setBounds(left, top, juce::roundToInt(fullWidth * scale), juce::roundToInt(Body::height * scale));
    }

    void paint(juce::Graphics& g) override { g.fillAll(strip.lookOf().theme().ground); }

    bool keyPressed(const juce::KeyPress& key) override
    {
        if (key != juce::KeyPress::spaceKey || desk.player.isLive()) return false;
        desk.play(!desk.player.cursor().plays());
        return true;
    }

    bool isInterestedInFileDrag(const juce::StringArray&) override { return true; }
    void fileDragEnter(const juce::StringArray&, int, int) override { showDrop(true); }
    void fileDragExit(const juce::StringArray&) override { showDrop(false); }

    /// Two files: spot and room. One: the spot where it falls on the left half, the room on the right.
    void filesDropped(const juce::StringArray& files, int x, int) override
    {
        showDrop(false);
        if (files.size() == 1)
            desk.open(x < getWidth() / 2 ? Role::spot : Role::room, juce::File(files[0]));
        else
            desk.open(files);
    }

    void paintOverChildren(juce::Graphics& g) override
    {
        if (!isDropping) return;
        const auto& theme = strip.lookOf().theme();
        auto area = getLocalBounds().toFloat();
        g.setColour(theme.ground.withAlpha(0.85F));
        g.fillRect(area);
        g.setFont(Look::font(Look::heading, true));
        const auto half = [&](juce::Rectangle<float> side, juce::Colour colour, const juce::String& text)
        {
            g.setColour(colour);
            g.drawRoundedRectangle(side.reduced(12.0F), Look::corner, 2.0F);
            Look::write(g, text, side, juce::Justification::centred);
        };
        half(area.removeFromLeft(area.getWidth() / 2.0F), theme.spot, "Spot");
        half(area, theme.room, "Room");
    }

private:
    void showDrop(bool wanted)
    {
        isDropping = wanted;
        repaint();
    }

    void showSound()
    {
        juce::DialogWindow::LaunchOptions options;
        options.content.setOwned(new DevicePage(desk));
        options.dialogTitle = "Sound";
        options.componentToCentreAround = this;
        options.dialogBackgroundColour = getLookAndFeel().findColour(juce::ResizableWindow::backgroundColourId);
        options.resizable = false;
        soundWindow = options.launchAsync();
    }

    Desk& desk;
    Strip strip;
    std::unique_ptr<juce::AudioProcessorEditor> editor;
    juce::Component::SafePointer<juce::DialogWindow> soundWindow;
    bool isDropping = false;
};
} // namespace

Window::Window(Desk& desk) : DocumentWindow("Tarry", juce::Colours::black, minimiseButton | closeButton)
{
    setUsingNativeTitleBar(true);
    setContentOwned(new Content(desk), true);
    bounds.setSizeLimits(fullWidth * 3 / 4, fullHeight * 3 / 4, fullWidth * 2, fullHeight * 2);
    bounds.setFixedAspectRatio(static_cast<double>(fullWidth) / fullHeight);
    setConstrainer(&bounds);
    setResizable(true, false);
    centreWithSize(getWidth(), getHeight());
    setVisible(true);
}

void Window::closeButtonPressed()
{
    juce::JUCEApplicationBase::quit();
}
} // namespace tarry::standalone
