#include "Standalone/Window.h"

#include "Editor/Body.h"
#include "Standalone/DevicePage.h"
#include "Standalone/Strip.h"

#include <cmath>

namespace tarry::standalone
{
namespace
{
/// Strip and editor at one scale and in one round of Tab; files can be dropped anywhere.
class Content final : public juce::Component, public juce::FileDragAndDropTarget
{
public:
    explicit Content(Desk& wanted) : desk(wanted), strip(wanted), editor(wanted.processor.createEditorIfNeeded())
    {
        editor->setResizable(true, false); // the window has edges of its own
        editor->setFocusContainerType(FocusContainerType::none);
        setFocusContainerType(FocusContainerType::keyboardFocusContainer);
        // The application is our own, and so are its dialogs, alerts and file choosers.
        juce::LookAndFeel::setDefaultLookAndFeel(&strip.lookOf());
        setLookAndFeel(&strip.lookOf());
        addAndMakeVisible(strip);
        addAndMakeVisible(*editor);
        strip.onSound = [this] { showSound(); };
        strip.onScale = [this]
        {
            resized();
            if (onScale) onScale();
        };
        setSize(editor->getWidth(), editor->getHeight() + stripHeight());
    }

    ~Content() override
    {
        soundWindow.deleteAndZero(); // it knows the desk
        setLookAndFeel(nullptr);
        juce::LookAndFeel::setDefaultLookAndFeel(nullptr);
    }

    std::function<void()> onScale;

    [[nodiscard]] double scale() const { return desk.scalePercent() / 100.0; }
    [[nodiscard]] int stripHeight() const { return juce::roundToInt(Strip::height * scale()); }

    void resized() override
    {
        strip.setTransform(juce::AffineTransform::scale(static_cast<float>(scale())));
        strip.setSize(static_cast<int>(std::ceil(getWidth() / scale())), Strip::height);
        editor->setBounds(getLocalBounds().withTrimmedTop(stripHeight()));
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
        options.dialogBackgroundColour = strip.lookOf().theme().ground;
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

Window::Window(Desk& desk)
    : DocumentWindow("Tarry", juce::Colours::black, minimiseButton | maximiseButton | closeButton)
{
    setUsingNativeTitleBar(true);
    auto* content = new Content(desk);
    setContentOwned(content, true);
    const auto limit = [this, content]
    {
        const auto least = [content](int pixels) { return juce::roundToInt(pixels * content->scale()); };
        bounds.setSizeLimits(least(Body::leastWidth), least(Body::leastHeight + Strip::height), 8192, 8192);
        bounds.checkComponentBounds(this);
    };
    limit();
    content->onScale = limit;
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
