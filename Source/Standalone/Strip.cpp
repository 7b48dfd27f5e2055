#include "Standalone/Strip.h"

#include "Editor/Body.h"

namespace tarry::standalone
{
namespace
{
constexpr int margin = 8, markWidth = 14, gap = 8, rowHeight = 22, row1 = 7, row2 = 33, row3 = 70;
constexpr int speakersWidth = 128, clockWidth = 92;
constexpr const char* fileKinds = "*.wav;*.w64;*.rf64;*.aif;*.aiff;*.flac";

juce::String clockText(double seconds)
{
    const int whole = static_cast<int>(seconds);
    return juce::String(whole / 60) + ":" + juce::String(whole % 60).paddedLeft('0', 2) + "." +
           juce::String(static_cast<int>((seconds - whole) * 10.0));
}

void setTextIfChanged(juce::TextButton& button, const juce::String& text)
{
    if (button.getButtonText() != text) button.setButtonText(text);
}
} // namespace

Strip::PositionBar::PositionBar() : juce::Slider(LinearHorizontal, NoTextBox)
{
    setTitle("Position");
    setHelpText("Where it plays. Drag it, or step by a second with the arrow keys.");
    setTooltip("Where it plays.");
    setWantsKeyboardFocus(true);
    setRange(0.0, 1.0);
}

juce::String Strip::PositionBar::getTextFromValue(double seconds)
{
    return clockText(seconds);
}

void Strip::PositionBar::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto area = getLocalBounds().toFloat().reduced(2.0F, 0.0F);
    const auto track = area.withSizeKeepingCentre(area.getWidth(), 3.0F);
    const double range = getMaximum() - getMinimum();
    const float x = track.getX() + track.getWidth() * static_cast<float>(range > 0.0 ? getValue() / range : 0.0);
    g.setColour(theme.line);
    g.fillRoundedRectangle(track, 1.5F);
    g.setColour(isEnabled() ? theme.ink : theme.dim);
    g.fillRoundedRectangle(track.withRight(x), 1.5F);
    if (isEnabled()) g.fillRect(juce::Rectangle<float>(3.0F, 14.0F).withCentre({x, track.getCentreY()}));
    if (hasKeyboardFocus(false)) Look::drawFocus(g, *this, theme.focus);
}

Strip::Strip(Desk& wanted)
    : desk(wanted), source("Source", {{"Files", "Plays the two files."},
                                      {"Live", "Measures to the sound device's inputs. The speakers are turned off "
                                               "first, so that nothing howls."}}),
      speakers("Speakers", "Level at the speakers. Turn them down before the A/B.",
               {Desk::speakersOff, Desk::speakersFull, 0.5, Desk::speakersNormal, "dB", 1, false})
{
    setLookAndFeel(&look);
    setTitle("Files and sound");
    setOpaque(true);
    describe(spot, spot, "Spot file", "Opens the spot, the close microphone. Files can be dropped here as well.");
    describe(room, room, "Room file", "Opens the room, the main microphones. Files can be dropped here as well.");
    describe(playButton, playButton, "Play", "Plays or stops; so does the space bar.");
    describe(loop, loop, "Loop", "Begins anew after half a second of silence.");
    describe(printButton, printButton, "Print", "Renders the aligned spot to a file, as 'tarry print' does.");
    printButton.setButtonText("Print...");
    describe(soundButton, soundButton, "Sound", "Sound device, and which of its inputs are spot and room.");

    spot.onClick = [this] { choose(Role::spot); };
    room.onClick = [this] { choose(Role::room); };
    playButton.onClick = [this]
    {
        desk.play(!desk.player.cursor().plays());
        update();
    };
    loop.onClick = [this] { desk.player.cursor().loop(loop.getToggleState()); };
    printButton.onClick = [this] { choosePrint(); };
    soundButton.onClick = [this]
    {
        if (onSound) onSound();
    };
    source.onChange = [this](int index)
    {
        desk.setLive(index == 1);
        update();
    };
    position.onValueChange = [this] { desk.seek(position.getValue()); };
    speakers.onValueChange = [this] { desk.setSpeakers(speakers.getValue()); };
    desk.onChange = [this] { update(); };

    for (auto* child : std::initializer_list<juce::Component*>{&spot, &room, &source, &playButton, &loop, &position,
                                                               &printButton, &soundButton, &speakers})
        addAndMakeVisible(child);
    sendLookAndFeelChange(); // the numbers were made before they had our type
    setSize(Body::leastWidth, height);
    update();
    startTimerHz(20);
}

Strip::~Strip()
{
    desk.onChange = nullptr;
    setLookAndFeel(nullptr);
}

/// Shows what has changed and leaves the rest alone.
void Strip::update()
{
    if (desk.isDark() != look.isDark())
    {
        look.setDark(desk.isDark());
        sendLookAndFeelChange();
        repaint();
    }

    if (const int now = desk.scalePercent(); now != scale)
    {
        scale = now;
        if (onScale) onScale();
    }

    const auto name = [this](juce::TextButton& button, Role role, const juce::String& word)
    {
        const auto file = desk.file(role);
        const auto text =
            file == juce::File() ? "Open " + word.toLowerCase() + "..." : word + ": " + file.getFileName();
        setTextIfChanged(button, Look::shortened(text, Look::font(Look::small), button.getWidth() - 12));
    };
    name(spot, Role::spot, "Spot");
    name(room, Role::room, "Room");
    const bool live = desk.player.isLive();
    source.choose(live ? 1 : 0);
    const double length = desk.duration();
    const bool canPlay = !live && length > 0.0;
    setTextIfChanged(playButton, desk.player.cursor().plays() ? "Stop" : "Play");
    playButton.setEnabled(canPlay);
    loop.setToggleState(desk.player.cursor().loops(), juce::dontSendNotification);
    position.setEnabled(canPlay);
    if (position.getMaximum() != std::max(1.0, length)) position.setRange(0.0, std::max(1.0, length));
    if (!position.isMouseButtonDown()) position.setValue(desk.seconds(), juce::dontSendNotification);
    if (!speakers.isMouseButtonDown()) speakers.show(desk.speakersDb());
    setTextIfChanged(soundButton, desk.sound.hasDevice() ? "Sound..." : "No device...");

    const auto nowClock = canPlay ? clockText(desk.seconds()) + " / " + clockText(length) : juce::String();
    desk.follow();
    const auto& message = desk.message();
    const juce::String doing = desk.measures() ? "Measuring the files..." : desk.isBusy() ? "Reading..." : "";
    const auto nowLine = message.isComplaint || doing.isEmpty() ? message.text
                         : message.text.isEmpty()               ? doing
                                                                : doing + " " + message.text;
    if (nowClock == clock && nowLine == line && complains == desk.message().isComplaint) return;
    clock = nowClock;
    line = nowLine;
    complains = desk.message().isComplaint;
    setDescription(line);
    repaint();
}

void Strip::choose(Role role)
{
    const auto now = desk.file(role);
    const auto other = desk.file(role == Role::spot ? Role::room : Role::spot);
    const auto start = now != juce::File() ? now : other != juce::File() ? other.getParentDirectory() : juce::File();
    chooser = std::make_unique<juce::FileChooser>(role == Role::spot ? "Open the spot" : "Open the room", start,
                                                  fileKinds, true, false, getTopLevelComponent());
    chooser->launchAsync(juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles,
                         [this, role](const juce::FileChooser& done)
                         {
                             if (done.getResult() != juce::File()) desk.open(role, done.getResult());
                         });
}

void Strip::choosePrint()
{
    auto order = desk.order();
    if (!order) return;
    const auto from = desk.file(Role::spot);
    const auto proposed =
        from.getSiblingFile(from.getFileNameWithoutExtension() + "-aligned" + from.getFileExtension());
    chooser = std::make_unique<juce::FileChooser>("Print the aligned spot", proposed, fileKinds, true, false,
                                                  getTopLevelComponent());
    chooser->launchAsync(juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::canSelectFiles |
                             juce::FileBrowserComponent::warnAboutOverwriting,
                         [this, order](const juce::FileChooser& done)
                         {
                             if (done.getResult() == juce::File()) return;
                             auto wanted = *order;
                             wanted.output = done.getResult().getFullPathName().toStdString();
                             desk.print(wanted);
                         });
}

void Strip::paint(juce::Graphics& g)
{
    const auto& theme = look.theme();
    g.fillAll(theme.ground);
    g.setColour(theme.line);
    g.fillRect(margin, height - 1, getWidth() - 2 * margin, 1);
    Look::drawSpotMark(g, margin + 5.0F, static_cast<float>(spot.getBounds().getCentreY()) + 4.5F, 9.0F, theme.spot);
    Look::drawRoomMark(g, static_cast<float>(room.getX()) - markWidth + 5.0F,
                       static_cast<float>(room.getBounds().getCentreY()) - 4.5F, 9.0F, theme.room);
    g.setFont(Look::font(Look::small));
    g.setColour(theme.dim);
    Look::write(g, clock, position.getBounds().withX(position.getRight() + 6).withWidth(clockWidth),
                juce::Justification::centredLeft);
    // What went wrong differs in ink, and has a sign before it.
    const auto words = juce::Rectangle<int>(margin, row3, getWidth() - 2 * margin, height - row3 - 3);
    const auto font = Look::font(Look::small, complains);
    g.setFont(font);
    g.setColour(complains ? theme.wrong : theme.ink);
    Look::write(g, Look::shortened(complains ? "! " + line : line, font, words.getWidth()), words,
                juce::Justification::centredLeft);
}

void Strip::resized()
{
    constexpr int sourceWidth = 110, buttonWidth = 58;
    auto row = juce::Rectangle<int>(margin, row1, getWidth() - 2 * margin, rowHeight);
    source.setBounds(row.removeFromRight(sourceWidth));
    const int fileWidth = (row.getWidth() - 2 * (markWidth + gap)) / 2;
    spot.setBounds(row.withTrimmedLeft(markWidth).withWidth(fileWidth));
    room.setBounds(row.withTrimmedLeft(2 * markWidth + gap + fileWidth).withWidth(fileWidth));

    row = juce::Rectangle<int>(margin, row2 + 6, getWidth() - 2 * margin, rowHeight);
    soundButton.setBounds(row.removeFromRight(84));
    row.removeFromRight(3);
    printButton.setBounds(row.removeFromRight(buttonWidth));
    row.removeFromRight(gap);
    speakers.setBounds(row.removeFromRight(speakersWidth).withY(row2).withHeight(34));
    row.removeFromRight(gap + clockWidth);
    playButton.setBounds(row.removeFromLeft(buttonWidth));
    row.removeFromLeft(gap);
    loop.setBounds(row.removeFromLeft(56));
    row.removeFromLeft(gap);
    position.setBounds(row);
}
} // namespace tarry::standalone
