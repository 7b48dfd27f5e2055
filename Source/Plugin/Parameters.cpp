#include "Plugin/Parameters.h"

#include <cmath>
#include <memory>

namespace tarry
{
namespace
{
constexpr int hint = 1; // version hint of everything in the first release

juce::AudioParameterBool* addSwitch(juce::AudioProcessor& processor, const char* id, const char* name, bool initial,
                                    const juce::String& off, const juce::String& on)
{
    auto attributes = juce::AudioParameterBoolAttributes()
                          .withStringFromValueFunction([=](bool value, int) { return value ? on : off; })
                          .withValueFromStringFunction(
                              [=](const juce::String& text)
                              {
                                  const auto word = text.trim();
                                  if (word.equalsIgnoreCase(on)) return true;
                                  if (word.equalsIgnoreCase(off)) return false;
                                  return word.equalsIgnoreCase("on") || word.getIntValue() != 0;
                              });
    auto parameter = std::make_unique<juce::AudioParameterBool>(juce::ParameterID{id, hint}, name, initial, attributes);
    auto* raw = parameter.get();
    processor.addParameter(parameter.release());
    return raw;
}

juce::AudioParameterFloat* addNumber(juce::AudioProcessor& processor, const char* id, const char* name,
                                     const juce::NormalisableRange<float>& range, float initial,
                                     const juce::AudioParameterFloatAttributes& attributes)
{
    auto parameter =
        std::make_unique<juce::AudioParameterFloat>(juce::ParameterID{id, hint}, name, range, initial, attributes);
    auto* raw = parameter.get();
    processor.addParameter(parameter.release());
    return raw;
}

juce::AudioParameterFloatAttributes inUnit(const char* unit, int decimals)
{
    return juce::AudioParameterFloatAttributes()
        .withLabel(unit)
        .withStringFromValueFunction([decimals](float value, int) { return juce::String(value, decimals); })
        .withValueFromStringFunction([](const juce::String& text) { return text.getFloatValue(); });
}

const juce::StringArray roomChannelNames{"First arrival", "Left", "Right"};

juce::AudioParameterFloatAttributes asRoomChannel()
{
    return juce::AudioParameterFloatAttributes()
        .withStringFromValueFunction([](float value, int) { return roomChannelNames[juce::roundToInt(value)]; })
        .withValueFromStringFunction(
            [](const juce::String& text)
            {
                const int index = roomChannelNames.indexOf(text.trim(), true);
                return index >= 0 ? static_cast<float>(index) : text.getFloatValue();
            });
}
} // namespace

Parameters::Parameters(juce::AudioProcessor& p)
    : bypass(addSwitch(p, "bypass", "Bypass", false, "Off", "On")),
      aligned(addSwitch(p, "aligned", "Aligned", true, "As recorded", "Aligned")),
      measure(addSwitch(p, "measure", "Measure", true, "Frozen", "Measuring")),
      freezeWhenSettled(addSwitch(p, "freezeWhenSettled", "Freeze when settled", true, "Off", "On")),
      lean(addNumber(p, "lean", "Lean", {-20.0F, 30.0F, 0.01F}, 0.0F, inUnit("ms", 2))),
      wholeSamples(addSwitch(p, "wholeSamples", "Whole samples", false, "Off", "On")),
      eachSide(addSwitch(p, "eachSide", "Each side", false, "Off", "On")),
      blend(addSwitch(p, "blend", "Blend", false, "Off", "On")),
      blendRoom(addNumber(p, "blendRoom", "Blend room", {-40.0F, 12.0F, 0.1F}, 0.0F, inUnit("dB", 1))),
      reach(addNumber(p, "reach", "Reach", {5.0F, 200.0F, 1.0F}, 80.0F, inUnit("ms", 0))),
      clap(addSwitch(p, "clap", "Clap", false, "Off", "On")),
      roomChannel(addNumber(p, "roomChannel", "Room channel", {0.0F, 2.0F, 1.0F}, 0.0F, asRoomChannel()))
{
}

Controls Parameters::controls() const noexcept
{
    // From floats in ms and dB to SI, by way of the decimals that the parameter has: 8.00 ms is 0.008 s, not nearly.
    const auto milliseconds = [](float value) { return std::round(static_cast<double>(value) * 100.0) / 1.0e5; };
    Controls now;
    now.bypassed = bypass->get();
    now.aligned = aligned->get();
    now.freezeWhenSettled = freezeWhenSettled->get();
    now.lean = milliseconds(lean->get());
    now.wholeSamples = wholeSamples->get();
    now.eachSide = eachSide->get();
    now.blend = blend->get();
    now.blendGain = std::pow(10.0, static_cast<double>(blendRoom->get()) / 20.0);
    now.reach = milliseconds(reach->get());
    now.clap = clap->get();
    now.roomChannel = juce::roundToInt(roomChannel->get()) - 1;
    return now;
}
} // namespace tarry
