#include "Plugin/Parameters.h"

#include <cassert>
#include <memory>

namespace tarry
{
namespace
{
juce::String toJuce(std::string_view text)
{
    return juce::String::fromUTF8(text.data(), static_cast<int>(text.size()));
}

/// "As recorded", for a host's list.
juce::String shown(std::string_view words)
{
    const auto text = toJuce(words);
    return text.substring(0, 1).toUpperCase() + text.substring(1);
}

/// What is said in place of "on", where there is something to say.
using Instead = std::shared_ptr<std::atomic<const char*>>;

std::unique_ptr<juce::RangedAudioParameter> makeToggle(const Setting& setting, const juce::ParameterID& id,
                                                       const Instead& instead)
{
    const auto off = setting.choices.empty() ? juce::String("Off") : shown(setting.choices[0]);
    const auto on = setting.choices.empty() ? juce::String("On") : shown(setting.choices[1]);
    auto attributes = juce::AudioParameterBoolAttributes()
                          .withStringFromValueFunction(
                              [=](bool value, int)
                              {
                                  const char* said = instead ? instead->load() : nullptr;
                                  return !value ? off : said != nullptr ? juce::String(said) : on;
                              })
                          .withValueFromStringFunction(
                              [=](const juce::String& text)
                              {
                                  const auto word = text.trim();
                                  if (word.equalsIgnoreCase(on)) return true;
                                  if (word.equalsIgnoreCase(off)) return false;
                                  if (word.startsWithIgnoreCase("rendered")) return true;
                                  return word.equalsIgnoreCase("on") || word.getIntValue() != 0;
                              });
    return std::make_unique<juce::AudioParameterBool>(id, toJuce(setting.hostName), setting.initial() != 0.0,
                                                      attributes);
}

std::unique_ptr<juce::RangedAudioParameter> makeNumber(const Setting& setting, const juce::ParameterID& id)
{
    const auto* const one = &setting; // the table outlives every parameter
    auto attributes = juce::AudioParameterFloatAttributes()
                          .withLabel(toJuce(setting.unitName()))
                          .withStringFromValueFunction(
                              [one](float value, int)
                              {
                                  const auto word = one->wordOf(static_cast<double>(value));
                                  return word.empty() ? juce::String(value, one->decimals) : shown(word);
                              })
                          .withValueFromStringFunction(
                              [one](const juce::String& text)
                              {
                                  for (std::size_t i = 0; i < one->choices.size(); ++i)
                                      if (text.trim().equalsIgnoreCase(toJuce(one->choices[i])))
                                          return static_cast<float>(one->least) + static_cast<float>(i);
                                  return text.getFloatValue();
                              });
    const juce::NormalisableRange<float> range(static_cast<float>(setting.least), static_cast<float>(setting.most),
                                               static_cast<float>(setting.step));
    return std::make_unique<juce::AudioParameterFloat>(id, toJuce(setting.hostName), range,
                                                       static_cast<float>(setting.initial()), attributes);
}
} // namespace

Parameters::Parameters(juce::AudioProcessor& processor)
{
    std::size_t count = 0;
    for (const auto& setting : settingTable())
    {
        if (!setting.isParameter()) continue;
        const juce::ParameterID id{toJuce(setting.id), setting.hint};
        auto parameter =
            setting.kind == Setting::Kind::toggle
                ? makeToggle(setting, id, setting.member == Setting::Member(&Controls::measure) ? rendered : nullptr)
                : makeNumber(setting, id);
        assert(count < most);
        entries[count++] = {&setting, parameter.get()};
        processor.addParameter(parameter.release());
    }
    const auto toggle = [this](bool Controls::*member)
    { return static_cast<juce::AudioParameterBool*>(&(*this)[member]); };
    const auto number = [this](Setting::Member member)
    { return static_cast<juce::AudioParameterFloat*>(&(*this)[member]); };
    bypass = toggle(&Controls::bypassed);
    aligned = toggle(&Controls::aligned);
    measure = toggle(&Controls::measure);
    freezeWhenSettled = toggle(&Controls::freezeWhenSettled);
    lean = number(&Controls::lean);
    wholeSamples = toggle(&Controls::wholeSamples);
    eachSide = toggle(&Controls::eachSide);
    blend = toggle(&Controls::blend);
    blendRoom = number(&Controls::blendGain);
    reach = number(&Controls::reach);
    clap = toggle(&Controls::clap);
    roomChannel = number(&Controls::roomChannel);
}

juce::RangedAudioParameter& Parameters::operator[](std::string_view id) const
{
    const auto* const found =
        std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.setting && e.setting->id == id; });
    assert(found != entries.end());
    return *found->parameter;
}

juce::RangedAudioParameter& Parameters::operator[](Setting::Member member) const
{
    return (*this)[setting(member).id];
}

Controls Parameters::controls() const noexcept
{
    Controls now;
    for (const auto& entry : entries)
    {
        if (entry.setting == nullptr) break;
        // From a float back to the step it stands for: 8.00 ms is 0.008 s, not nearly.
        const auto value = entry.parameter->convertFrom0to1(entry.parameter->getValue());
        entry.setting->set(now, entry.setting->snapped(static_cast<double>(value)));
    }
    return now;
}

bool Parameters::sayRendered(bool unsettled, bool somethingHeld)
{
    const char* words = !unsettled      ? nullptr
                        : somethingHeld ? "Rendered as held: not settled"
                                        : "Rendered as recorded: not settled";
    return rendered->exchange(words) != words;
}

void setNotifying(juce::RangedAudioParameter& parameter, double value)
{
    const float wanted = parameter.convertTo0to1(static_cast<float>(value));
    if (parameter.getValue() == wanted) return;
    parameter.beginChangeGesture();
    parameter.setValueNotifyingHost(wanted);
    parameter.endChangeGesture();
}
} // namespace tarry
