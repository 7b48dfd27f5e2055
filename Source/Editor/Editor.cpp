#include "Editor/Editor.h"

#include "Editor/Body.h"
#include "Editor/ProcessorLink.h"
#include "Plugin/Processor.h"

#include <cmath>

namespace tarry
{
namespace
{
/// Holds the body, which fills it at the scale that is set; its size is saved with the session.
class Editor final : public juce::AudioProcessorEditor
{
public:
    explicit Editor(Processor& plugin) : AudioProcessorEditor(plugin), body(std::make_unique<ProcessorLink>(plugin))
    {
        setLookAndFeel(&body.lookOf()); // of what opens over the body: the file chooser, the corner
        addAndMakeVisible(body);
        setFocusContainerType(FocusContainerType::keyboardFocusContainer);
        setResizable(true, true);
        fitLimits();
        const auto saved = [this](const char* key, int least, int most, int usual)
        {
            const int size = body.target().screenSetting(key).getIntValue();
            return size > 0 ? juce::jlimit(least, most, size) : usual;
        };
        setSize(saved("width", leastWidth(), mostWidth, juce::roundToInt(usualWidth * scale())),
                saved("height", leastHeight(), mostHeight, juce::roundToInt(usualHeight * scale())));
        isOpen = true;
        body.onScale = [this](int)
        {
            fitLimits();
            setSize(std::max(getWidth(), leastWidth()), std::max(getHeight(), leastHeight()));
            resized();
        };
    }

    ~Editor() override { setLookAndFeel(nullptr); }

    void resized() override
    {
        body.setTransform(juce::AffineTransform::scale(static_cast<float>(scale())));
        // Rounded up: no line of the ground may stay uncovered.
        body.setSize(static_cast<int>(std::ceil(getWidth() / scale())),
                     static_cast<int>(std::ceil(getHeight() / scale())));
        if (!isOpen) return;
        body.target().setScreenSetting("width", juce::String(getWidth()));
        body.target().setScreenSetting("height", juce::String(getHeight()));
    }

    void paint(juce::Graphics&) override {} // the body is opaque and covers all of it

private:
    static constexpr int usualWidth = 900, usualHeight = 560; // px at 100 %
    static constexpr int mostWidth = 8192, mostHeight = 8192; // px: any screen

    [[nodiscard]] double scale() const { return body.scalePercent() / 100.0; }
    [[nodiscard]] int leastWidth() const { return juce::roundToInt(Body::leastWidth * scale()); }
    [[nodiscard]] int leastHeight() const { return juce::roundToInt(Body::leastHeight * scale()); }
    void fitLimits() { setResizeLimits(leastWidth(), leastHeight(), mostWidth, mostHeight); }

    Body body;
    bool isOpen = false;
};
} // namespace

juce::AudioProcessorEditor* makeEditor(Processor& processor)
{
    return new Editor(processor);
}
} // namespace tarry
