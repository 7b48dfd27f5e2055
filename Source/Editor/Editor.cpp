#include "Editor/Editor.h"

#include "Editor/Body.h"
#include "Editor/ProcessorLink.h"
#include "Plugin/Processor.h"

namespace tarry
{
namespace
{
/// Holds the body and scales it; its size is saved with the session.
class Editor final : public juce::AudioProcessorEditor
{
public:
    explicit Editor(Processor& plugin) : AudioProcessorEditor(plugin), body(std::make_unique<ProcessorLink>(plugin))
    {
        addAndMakeVisible(body);
        setResizable(true, true);
        setResizeLimits(Body::width * 3 / 4, Body::height * 3 / 4, Body::width * 2, Body::height * 2);
        getConstrainer()->setFixedAspectRatio(static_cast<double>(Body::width) / Body::height);
        const int saved = body.target().screenSetting("width").getIntValue();
        const int width = saved > 0 ? juce::jlimit(Body::width * 3 / 4, Body::width * 2, saved) : Body::width;
        setSize(width, juce::roundToInt(static_cast<double>(width) * Body::height / Body::width));
        isOpen = true;
        if (resizableCorner != nullptr) resizableCorner->setLookAndFeel(&body.lookOf());
    }

    ~Editor() override
    {
        if (resizableCorner != nullptr) resizableCorner->setLookAndFeel(nullptr);
    }

    void resized() override
    {
        body.setTransform(
            juce::AffineTransform::scale(static_cast<float>(getWidth()) / static_cast<float>(Body::width)));
        if (isOpen) body.target().setScreenSetting("width", juce::String(getWidth()));
    }

    void paint(juce::Graphics&) override {} // the body is opaque and covers all of it

private:
    Body body;
    bool isOpen = false;
};
} // namespace

juce::AudioProcessorEditor* makeEditor(Processor& processor)
{
    return new Editor(processor);
}
} // namespace tarry
