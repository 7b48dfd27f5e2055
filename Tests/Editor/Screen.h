#pragma once
#include "Editor/Body.h"
#include "Editor/MadeUp.h"
#include "Support/Catch.h"

#include <cstdlib>
#include <functional>
#include <memory>

/// The editor's body with a made-up target, and ways to look into it.
namespace tarry::test
{
/// The body on a made-up target.
struct Screen
{
    explicit Screen(const EditorModel& model)
    {
        auto made = std::make_unique<MadeUpTarget>(model);
        target = made.get();
        body = std::make_unique<Body>(std::move(made));
    }

    juce::ScopedJuceInitialiser_GUI juce;
    MadeUpTarget* target = nullptr;
    std::unique_ptr<Body> body;

    [[nodiscard]] juce::Image picture(float scale) const
    {
        const int w = juce::roundToInt(scale * static_cast<float>(body->getWidth()));
        const int h = juce::roundToInt(scale * static_cast<float>(body->getHeight()));
        juce::Image image(juce::Image::RGB, w, h, true, juce::SoftwareImageType());
        juce::Graphics g(image);
        g.addTransform(juce::AffineTransform::scale(scale));
        body->paintEntireComponent(g, true);
        return image;
    }
};

/// With TARRY_PICTURES set to a folder, what the tests paint is written there, to be looked at.
inline void keepPicture(const juce::Image& image, const juce::String& name)
{
    const auto* folder = std::getenv("TARRY_PICTURES");
    if (folder == nullptr) return;
    const auto file = juce::File(folder).getChildFile(name + ".png");
    file.deleteFile();
    juce::FileOutputStream out(file);
    juce::PNGImageFormat().writeImageToStream(image, out);
}

inline constexpr const char* pageNames[] = {"picture", "why", "setup", "trial", "keys"};
inline constexpr int pageCount = 5;

/// Sizes of the window, in px at 100 %, at which everything is looked at.
inline constexpr std::pair<int, int> sizes[] = {{640, 400}, {900, 560}, {1600, 1000}};

/// Every visible component below `root`, parents first.
inline void eachVisible(juce::Component& root, const std::function<void(juce::Component&)>& visit)
{
    for (auto* child : root.getChildren())
        if (child->isVisible())
        {
            visit(*child);
            eachVisible(*child, visit);
        }
}

/// Something that is turned, pressed or typed into by the user.
inline bool isControl(const juce::Component& component)
{
    const auto* label = dynamic_cast<const juce::Label*>(&component);
    if (label != nullptr) return false; // the number of a slider or text of a box: reached through its owner
    return dynamic_cast<const juce::Button*>(&component) != nullptr ||
           dynamic_cast<const juce::Slider*>(&component) != nullptr ||
           dynamic_cast<const juce::ComboBox*>(&component) != nullptr ||
           dynamic_cast<const LagReadout*>(&component) != nullptr ||
           dynamic_cast<const LanesView*>(&component) != nullptr ||
           dynamic_cast<const HitsView*>(&component) != nullptr;
}

template <typename Found>
Found* find(juce::Component& root, const juce::String& title)
{
    Found* found = nullptr;
    eachVisible(root,
                [&](juce::Component& c)
                {
                    if (auto* candidate = dynamic_cast<Found*>(&c); candidate != nullptr && c.getTitle() == title)
                        found = candidate;
                });
    INFO(title);
    REQUIRE(found != nullptr);
    return found;
}
} // namespace tarry::test
