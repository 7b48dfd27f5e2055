#include "Standalone/Strip.h"

namespace tarry::standalone
{
namespace
{
constexpr int margin = 14, markWidth = 16;
constexpr const char* fileKinds = "*.wav;*.w64;*.rf64;*.aif;*.aiff;*.flac";
constexpr const char* caution =
    "Turn the speakers down first: aligned hits add up to 6 dB. Local rules on noise exposure apply.";

juce::String clockText(double seconds)
{
    const int whole = static_cast<int>(seconds);
    return juce::String(whole / 60) + ":" + juce::String(whole % 60).paddedLeft('0', 2) + "." +
           juce::String(static_cast<int>((seconds - whole) * 10.0));
}

/// As much of a text as fits, with dots where something was left out: in the middle, so that endings can be read.
juce::String shortened(const juce::String& text, const juce::Font& font, int room)
{
    auto kept = text;
    for (int n = text.length() - 1; font.getStringWidth(kept) > room && n > 2; --n)
        kept = text.substring(0, n - n / 2) + juce::String::fromUTF8("\u2026") + text.getLastCharacters(n / 2);
    return kept;
}

/// The text in two lines at most.
juce::StringArray folded(const juce::String& text, const juce::Font& font, int room)
{
    juce::StringArray lines;
    juce::String first;
    auto words = juce::StringArray::fromTokens(text, " ", "");
    while (!words.isEmpty() && font.getStringWidth(first + " " + words[0]) <= room)
    {
        first << (first.isEmpty() ? "" : " ") << words[0];
        words.remove(0);
    }
    if (first.isNotEmpty()) lines.add(first);
    if (!words.isEmpty()) lines.add(shortened(words.joinIntoString(" "), font, room));
    return lines;
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
      speakers("Speakers", juce::String("Level at the speakers. ") + caution,
               {Desk::speakersOff, Desk::speakersFull, 0.5, Desk::speakersNormal, "dB", 1, false})
{
    setLookAndFeel(&look);
    setTitle("Files and sound");
    setOpaque(true);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer);
    describe(spot, spot, "Spot file", "Opens the spot, the close microphone. Files can be dropped here as well.");
    describe(room, room, "Room file", "Opens the room, the main microphones. Files can be dropped here as well.");
    describe(playButton, playButton, "Play", juce::String("Plays or stops; so does the space bar. ") + caution);
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
    setSize(width, height);
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

    const auto name = [this](juce::TextButton& button, Role role, const juce::String& word)
    {
        const auto file = desk.file(role);
        const auto text =
            file == juce::File() ? "Open " + word.toLowerCase() + "..." : word + ": " + file.getFileName();
        setTextIfChanged(button, shortened(text, Look::font(Look::body), button.getWidth() - 12));
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
    const auto nowLine = desk.isBusy() && !desk.message().isComplaint && desk.message().text.isEmpty()
                             ? juce::String("Reading...")
                             : desk.message().text;
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
    g.fillRect(margin, height - 1, width - 2 * margin, 1);
    Look::drawSpotMark(g, margin + 5.0F, static_cast<float>(spot.getBounds().getCentreY()) + 4.5F, 9.0F, theme.spot);
    Look::drawRoomMark(g, static_cast<float>(room.getX()) - markWidth + 5.0F,
                       static_cast<float>(room.getBounds().getCentreY()) - 4.5F, 9.0F, theme.room);
    g.setFont(Look::font(Look::body));
    g.setColour(theme.dim);
    Look::write(g, clock, position.getBounds().withX(position.getRight() + 6).withWidth(104),
                juce::Justification::centredLeft);
    auto words = getLocalBounds().withTrimmedTop(61).withTrimmedLeft(speakers.getRight() + 16).withTrimmedRight(margin);
    const auto small = Look::font(Look::small);
    g.setFont(small);
    Look::write(g, caution, words.removeFromTop(13), juce::Justification::centredLeft);
    g.setColour(complains ? theme.caution : theme.ink);
    for (const auto& text : folded(line, small, words.getWidth()))
        Look::write(g, text, words.removeFromTop(13), juce::Justification::centredLeft);
}

void Strip::resized()
{
    constexpr int fileWidth = 212, line1 = 9, line2 = 37, lineHeight = 22;
    spot.setBounds(margin + markWidth, line1, fileWidth, lineHeight);
    room.setBounds(spot.getRight() + 12 + markWidth, line1, fileWidth, lineHeight);
    source.setBounds(room.getRight() + 12, line1, width - margin - room.getRight() - 12, lineHeight);
    playButton.setBounds(margin, line2, 54, lineHeight);
    loop.setBounds(playButton.getRight() + 10, line2, 58, lineHeight);
    soundButton.setBounds(width - margin - 84, line2, 84, lineHeight);
    printButton.setBounds(soundButton.getX() - 3 - 64, line2, 64, lineHeight);
    position.setBounds(loop.getRight() + 6, line2, printButton.getX() - 116 - loop.getRight(), lineHeight);
    speakers.setBounds(margin, 62, 122, 38);
}
} // namespace tarry::standalone
