// Paints the pictures that the README shows: made-up halls through the real processor, what its editor shows then.
// Usage: editor-pictures FOLDER (see cmake/pictures.sh). Every figure in them is measured, none is set.
#include "Editor/Body.h"
#include "Editor/ProcessorLink.h"
#include "Hall/Scene.h"
#include "Plugin/Processor.h"

#include <exception>
#include <functional>
#include <iostream>
#include <memory>
#include <string>

using namespace tarry;

namespace
{
struct Picture
{
    std::string name;
    hall::SceneSpec scene;
    bool dark = true;
    Body::Page page = Body::Page::picture;
    const char* view = "0"; ///< ms on view, as it is saved; 0: both attacks
    int answers = -1;       ///< of a blind trial; -1: none is begun
    std::function<void(Processor&)> before = [](Processor&) {};
};

constexpr int block = 512;

void play(Processor& processor, const hall::Scene& scene)
{
    const auto& spot = scene.spot[0];
    const auto& room = scene.room[0];
    juce::AudioBuffer<float> buffer(2, block);
    juce::MidiBuffer midi;
    for (std::size_t at = 0; at + block <= spot.size(); at += block)
    {
        buffer.copyFrom(0, 0, spot.data() + at, block);
        buffer.copyFrom(1, 0, room.data() + at, block);
        processor.processBlock(buffer, midi);
        processor.engine().work(processor.parameters.controls()); // we do not wait for the worker
    }
}

/// Measures to a scene as a host that plays does, only faster: a render would hold what was held at its start.
void measure(Processor& processor, const hall::Scene& scene)
{
    auto layout = processor.getBusesLayout();
    for (auto& bus : layout.inputBuses) bus = juce::AudioChannelSet::mono();
    for (auto& bus : layout.outputBuses) bus = juce::AudioChannelSet::mono();
    if (!processor.setBusesLayout(layout)) throw std::runtime_error("the processor does not take mono in and out");
    processor.setRateAndBufferSizeDetails(scene.sampleRate, block);
    processor.prepareToPlay(scene.sampleRate, block);
    play(processor, scene);
}

/// A blind trial in the same hall, with a mixer who always says that X is A.
void tryBlind(Processor& processor, const hall::Scene& scene, int answers)
{
    const auto controls = processor.parameters.controls();
    auto& trial = processor.trial();
    trial.start(false, controls, 20);
    for (int turn = 0; turn < 20 && trial.values(controls).matching; ++turn) play(processor, scene);
    for (int i = 0; i < answers; ++i)
    {
        for (const auto sound : {TrialSound::a, TrialSound::b}) trial.hear(sound); // each answer wants both heard
        trial.answer(true);
    }
}

void paint(const Picture& picture, const juce::File& folder)
{
    Processor processor;
    processor.screen.set("colours", picture.dark ? "dark" : "light");
    processor.screen.set("view", picture.view);
    picture.before(processor);
    const auto scene = hall::makeScene(picture.scene);
    measure(processor, scene);
    if (picture.answers >= 0) tryBlind(processor, scene, picture.answers);

    Body body(std::make_unique<ProcessorLink>(processor));
    body.setPage(picture.page);
    body.setSize(880, 550); // as wide as a page shows it, and small
    juce::Image image(juce::Image::RGB, body.getWidth(), body.getHeight(), true, juce::SoftwareImageType());
    {
        juce::Graphics g(image);
        body.paintEntireComponent(g, true);
    }
    const auto file = folder.getChildFile(juce::String(picture.name) + ".png");
    file.deleteFile();
    juce::FileOutputStream out(file);
    if (!out.openedOk() || !juce::PNGImageFormat().writeImageToStream(image, out))
        throw std::runtime_error("could not write " + file.getFullPathName().toStdString());
    std::cout << file.getFileName() << "\n";
}

std::vector<Picture> pictures()
{
    const auto scene = [](const char* name, unsigned seed)
    {
        hall::SceneSpec spec;
        spec.name = name;
        spec.seed = seed;
        spec.distance = 10.7;
        return spec;
    };
    std::vector<Picture> all;
    all.push_back({"frozen", scene("low", 2)});
    all.push_back({"settled-lean", scene("player", 3), false, Body::Page::picture, "70"});
    all.back().before = [](Processor& p)
    {
        p.parameters.freezeWhenSettled->setValueNotifyingHost(0.0F);
        p.parameters.lean->setValueNotifyingHost(p.parameters.lean->convertTo0to1(8.0F));
    };
    all.push_back({"leave", scene("ensemble", 8), false});
    all.push_back({"trial", scene("player", 3), true, Body::Page::trial});
    all.back().answers = 5;
    return all;
}
} // namespace

int main(int argc, char* argv[])
{
    if (argc != 2)
    {
        std::cerr << "usage: editor-pictures FOLDER\n";
        return 2;
    }
    try
    {
        const juce::ScopedJuceInitialiser_GUI juce;
        const juce::File folder = juce::File::getCurrentWorkingDirectory().getChildFile(argv[1]);
        if (const auto made = folder.createDirectory(); made.failed())
            throw std::runtime_error(made.getErrorMessage().toStdString());
        for (const auto& picture : pictures()) paint(picture, folder);
        return 0;
    }
    catch (const std::exception& error)
    {
        std::cerr << "editor-pictures: " << error.what() << "\n";
        return 3;
    }
}
