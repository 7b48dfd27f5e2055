#include "Standalone/DevicePage.h"

namespace tarry::standalone
{
namespace
{
constexpr int mostInputs = 64, speakers = 2;

// A choice's number in the list: 1 for the first input alone, 2 for the first pair, 3 for the second input alone...
int idOf(const std::array<int, 2>& inputs)
{
    return 1 + 2 * inputs[0] + (inputs[1] >= 0 ? 1 : 0);
}

std::array<int, 2> inputsOf(int id)
{
    const int first = (id - 1) / 2;
    return {first, (id - 1) % 2 == 1 ? first + 1 : -1};
}

void fill(juce::ComboBox& box, const juce::StringArray& names, const std::array<int, 2>& chosen)
{
    box.clear(juce::dontSendNotification);
    for (int i = 0; i < names.size(); ++i)
    {
        box.addItem(juce::String(i + 1) + ": " + names[i], idOf({i, -1}));
        if (i + 1 < names.size())
            box.addItem(juce::String(i + 1) + " and " + juce::String(i + 2) + ", stereo", idOf({i, i + 1}));
    }
    box.setTextWhenNothingSelected(names.isEmpty() ? "no inputs" : "inputs that this device does not have");
    box.setEnabled(!names.isEmpty());
    box.setSelectedId(idOf(chosen), juce::dontSendNotification);
}
} // namespace

DevicePage::DevicePage(Desk& wanted)
    : desk(wanted), selector(desk.sound.manager(), 0, mostInputs, 0, speakers, false, false, false, false)
{
    const auto add = [this](juce::Label& label, juce::ComboBox& box, const juce::String& text)
    {
        label.setText(text, juce::dontSendNotification);
        label.setJustificationType(juce::Justification::centredRight);
        box.setTitle(text);
        box.onChange = [this] { pick(); };
        addAndMakeVisible(label);
        addAndMakeVisible(box);
    };
    add(spotLabel, spot, "Spot:");
    add(roomLabel, room, "Room:");
    look.setDark(desk.isDark());
    setLookAndFeel(&look);
    addAndMakeVisible(selector);
    desk.sound.manager().addChangeListener(this);
    setSize(500, 430);
    fillIn();
}

DevicePage::~DevicePage()
{
    desk.sound.manager().removeChangeListener(this);
    setLookAndFeel(nullptr);
}

void DevicePage::fillIn()
{
    const auto names = desk.sound.inputNames();
    fill(spot, names, desk.inputs().spot);
    fill(room, names, desk.inputs().room);
}

void DevicePage::pick()
{
    auto inputs = desk.inputs();
    if (spot.getSelectedId() > 0) inputs.spot = inputsOf(spot.getSelectedId());
    if (room.getSelectedId() > 0) inputs.room = inputsOf(room.getSelectedId());
    desk.setInputs(inputs);
}

void DevicePage::paint(juce::Graphics& g)
{
    g.fillAll(look.theme().ground);
}

void DevicePage::resized()
{
    auto area = getLocalBounds().reduced(8);
    auto inputs = area.removeFromBottom(64);
    selector.setBounds(area);
    // Under the selector's own boxes, which begin at 35 % of its width.
    for (auto [label, box] : {std::pair{&spotLabel, &spot}, std::pair{&roomLabel, &room}})
    {
        auto row = inputs.removeFromTop(30).withTrimmedBottom(4);
        label->setBounds(row.removeFromLeft(row.getWidth() * 35 / 100));
        box->setBounds(row);
    }
}
} // namespace tarry::standalone
