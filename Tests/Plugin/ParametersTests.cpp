#include "Plugin/Processor.h"
#include "Support/Catch.h"

#include <set>

using namespace tarry;

TEST_CASE("parameters: the ids that sessions and the LV2 rely on, none lost and none twice")
{
    Processor processor;
    std::set<std::string> ids;
    for (auto* parameter : processor.getParameters())
    {
        auto* ranged = dynamic_cast<juce::RangedAudioParameter*>(parameter);
        REQUIRE(ranged != nullptr);
        CHECK(ids.insert(ranged->getParameterID().toStdString()).second);
        CHECK(ranged->getVersionHint() >= 1);
    }
    CHECK(ids == std::set<std::string>{"bypass", "aligned", "measure", "freezeWhenSettled", "lean", "wholeSamples",
                                       "eachSide", "blend", "blendRoom", "reach", "clap", "roomChannel", "lock",
                                       "levelMatched", "compareLags"});
}

TEST_CASE("parameters: text both ways")
{
    Processor processor;
    for (auto* parameter : processor.getParameters())
        for (const float value : {0.0F, 0.25F, 0.5F, 1.0F})
        {
            if (parameter->isBoolean() && value > 0.0F && value < 1.0F) continue;
            parameter->setValue(value);
            const float snapped = parameter->getValue();
            const float back = parameter->getValueForText(parameter->getText(snapped, 64));
            INFO(parameter->getName(64) << ": " << snapped << " as \"" << parameter->getText(snapped, 64) << "\" is "
                                        << back);
            CHECK(std::abs(back - snapped) < 1.0e-4F);
        }
    const juce::AudioProcessorParameter& lean = *processor.parameters.lean;
    CHECK(lean.getValueForText("8") == Approx(processor.parameters.lean->convertTo0to1(8.0F)).margin(1.0e-6));
    const juce::AudioProcessorParameter& aligned = *processor.parameters.aligned;
    CHECK(aligned.getText(0.0F, 64) == "As recorded");
}

TEST_CASE("parameters reach the engine in SI units")
{
    Processor processor;
    auto& p = processor.parameters;
    CHECK(p.controls() == Controls{}); // the defaults are declared in both places, and must agree
    *p.lean = 8.0F;
    *p.reach = 120.0F;
    *p.blendRoom = -20.0F;
    *p.roomChannel = 2.0F;
    *p.aligned = false;
    const auto controls = p.controls();
    CHECK(controls.lean == 0.008); // exactly: not 8 ms nearly
    CHECK(controls.reach == 0.120);
    CHECK(controls.blendGain == Approx(0.1));
    CHECK(controls.roomChannel == 1);
    CHECK_FALSE(controls.aligned);
}
