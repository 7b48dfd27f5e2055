#include "Standalone/Desk.h"

#include "Editor/Editor.h"
#include "Editor/SetupPage.h"
#include "Files/Errors.h"

namespace tarry::standalone
{
namespace
{
std::filesystem::path pathOf(const juce::File& file)
{
    return file.getFullPathName().toStdString();
}

/// Keeps a number and its unit on one line.
const auto nbsp = juce::String::charToString(0xa0);

juce::String kilohertz(double hertz)
{
    return juce::String(hertz / 1e3, hertz == 1e3 * std::floor(hertz / 1e3) ? 0 : 1) + nbsp + "kHz";
}

juce::String describe(const Clip& clip)
{
    juce::String text(juce::String::fromUTF8(clip.info.file.filename().c_str()));
    text << ": " << (clip.info.channels == 1 ? "mono" : "stereo") << ", " << juce::String(clip.info.seconds(), 1)
         << nbsp << "s, " << kilohertz(clip.info.sampleRate);
    if (clip.sampleRate != clip.info.sampleRate) text << ", played at " << kilohertz(clip.sampleRate);
    return text + ".";
}
} // namespace

Desk::Desk()
{
    processor.editorMaker = makeEditor;
    processor.hasHost = false;
    // Spot and room come in together here: a room that is late by the look-ahead is a matter of hosts.
    auto setup = processor.setup();
    setup.roomArrivesLate = false;
    processor.setSetup(setup);
    setSpeakers(speakers);
    sound.onChange = [this]
    {
        processor.trial().setAudible(sound.hasDevice());
        fitRates();
    };
}

Desk::~Desk()
{
    sound.onChange = nullptr;
}

void Desk::start(const juce::XmlElement* savedDevice, bool silent)
{
    sound.start(savedDevice, silent);
    processor.trial().setAudible(sound.hasDevice());
    if (!sound.hasDevice()) say("No sound device: everything but the sound itself works.");
}

// ---------------------------------------------------------------------------------------------------- files

void Desk::open(Role role, const juce::File& file)
{
    setLive(false);
    say("");
    load(role, pathOf(file), true);
}

void Desk::open(const juce::StringArray& files)
{
    if (files.size() < 2) return;
    const auto isRoom = [&files](int index)
    { return juce::File(files[index]).getFileNameWithoutExtension().containsIgnoreCase("room"); };
    const int spot = isRoom(0) && !isRoom(1) ? 1 : 0;
    open(Role::spot, juce::File(files[spot]));
    open(Role::room, juce::File(files[1 - spot]));
}

juce::File Desk::file(Role role) const
{
    const auto& clip = slots[role == Role::spot ? 0 : 1].clip;
    return clip ? juce::File(juce::String::fromUTF8(clip->info.file.c_str())) : juce::File();
}

void Desk::load(Role role, const std::filesystem::path& path, bool isNew)
{
    const double rate = sound.hasDevice() || !isNew ? sound.sampleRate() : 0.0; // silent: in its own first
    const auto wish = ++slot(role).wish;
    ++pending;
    background.run(
        [this, role, path, rate, isNew, wish]() -> Background::Then
        {
            ClipPointer clip;
            juce::String trouble;
            try
            {
                clip = loadClip(path, rate, background.cancelled());
            }
            catch (const std::bad_alloc&)
            {
                trouble = juce::String::fromUTF8(path.c_str()) + ": does not fit into memory: cut it";
            }
            catch (const std::exception& error)
            {
                // Its name is enough on the screen: paths are long.
                trouble =
                    juce::String::fromUTF8(error.what())
                        .replace(juce::String::fromUTF8(path.c_str()), juce::String::fromUTF8(path.filename().c_str()));
            }
            return [this, role, clip, trouble, isNew, wish]
            {
                --pending;
                if (wish == slot(role).wish)
                {
                    if (clip)
                        arrived(role, clip, isNew);
                    else if (trouble.isNotEmpty())
                    {
                        say(trouble, true);
                        fitRates();
                    }
                }
                if (onChange) onChange();
            };
        });
    if (onChange) onChange();
}

void Desk::arrived(Role role, const ClipPointer& clip, bool isNew)
{
    slot(role).clip = clip;
    isFresh = isFresh || isNew;
    fitRates();
}

/// Both clips at the clock's rate: a device has its own, the silent clock takes the spot's.
void Desk::fitRates()
{
    const auto& spot = slots[0].clip;
    const auto& room = slots[1].clip;
    if (!sound.hasDevice() && (spot || room)) sound.setSilentRate((spot ? spot : room)->info.sampleRate);
    const double rate = sound.sampleRate();
    bool fit = true;
    for (const auto role : {Role::spot, Role::room})
        if (const auto& clip = slot(role).clip; clip && clip->sampleRate != rate)
        {
            fit = false;
            load(role, clip->info.file, false);
        }
    if (fit && pending == 0) handOver();
    if (onChange) onChange();
}

void Desk::handOver()
{
    player.setClips(slots[0].clip, slots[1].clip);
    if (!isFresh) return;
    isFresh = false;
    auto& engine = processor.engine();
    const auto before = engine.followState();
    if (before.held)
        engine.restoreWithUndo({}, "opening other files", {});
    else
        engine.restore({}, engine.history());
    juce::StringArray words;
    for (const auto& slot : slots)
        if (slot.clip) words.add(describe(*slot.clip));
    if (!said.isComplaint) say(words.joinIntoString(" "));
    whole.reset();
    measuredBy.reset();
    engine.setMeasuredWhole(nullptr);
    if (!slots[0].clip || !slots[1].clip) return;
    follow();
    play(true);
}

// ------------------------------------------------------------------------------------------------ measuring

void Desk::follow()
{
    if (player.isLive() || !slots[0].clip || !slots[1].clip) return;
    const auto controls = processor.parameters.controls();
    const auto setup = processor.setup();
    MeasureJob wanted;
    wanted.spot = slots[0].clip->info.file;
    wanted.room = slots[1].clip->info.file;
    wanted.settings.reach = controls.reach;
    wanted.settings.lookAhead = setup.lookAhead;
    wanted.settings.clap = controls.clap;
    wanted.settings.temperature = setup.temperature;
    if (controls.roomChannel >= 0)
        wanted.roomChannel = std::to_string(std::min(controls.roomChannel, slots[1].clip->info.channels - 1) + 1);
    if (measuredBy == wanted) return;
    measuredBy = wanted;
    measureWhole();
}

/// As the command does: the same files, the same answer.
void Desk::measureWhole()
{
    const auto wish = ++measuring;
    isMeasuring = true;
    // Until the answer is there, nothing that is played is measured in its place.
    processor.engine().setMeasuredWhole(std::make_shared<const Report>());
    background.run(
        [this, wanted = *measuredBy, wish]() -> Background::Then
        {
            std::shared_ptr<const Report> found;
            juce::String trouble;
            try
            {
                found = std::make_shared<const Report>(measureFiles(wanted).report);
            }
            catch (const std::exception& error)
            {
                trouble = juce::String::fromUTF8(error.what());
            }
            return [this, found, trouble, wish]
            {
                if (wish != measuring) return;
                isMeasuring = false;
                whole = found;
                if (!player.isLive()) processor.engine().setMeasuredWhole(whole);
                if (trouble.isNotEmpty()) say(trouble, true);
                if (onChange) onChange();
            };
        });
}

// ------------------------------------------------------------------------------------------------- playing

void Desk::play(bool wanted)
{
    player.cursor().play(wanted);
}

double Desk::seconds() const
{
    return static_cast<double>(player.cursor().position()) / sound.sampleRate();
}

double Desk::duration() const
{
    return static_cast<double>(player.cursor().frames()) / sound.sampleRate();
}

void Desk::seek(double toSeconds)
{
    player.cursor().seek(juce::roundToInt(std::max(0.0, toSeconds) * sound.sampleRate()));
}

void Desk::setLive(bool wanted)
{
    if (wanted == player.isLive()) return;
    if (wanted && !sound.hasDevice())
    {
        say("Live inputs need a sound device: choose one under Sound.", true);
        return;
    }
    if (wanted) speakersBeforeLive = speakers;
    setSpeakers(wanted ? speakersOff : speakersBeforeLive);
    player.setLive(wanted, chosen);
    processor.engine().setMeasuredWhole(wanted ? nullptr : whole);
    say(wanted ? "Live: the speakers are off, so that nothing howls. Turn them up with care." : "");
}

void Desk::setInputs(const Inputs& wanted)
{
    chosen = wanted;
    player.setLive(player.isLive(), chosen);
}

void Desk::setSpeakers(double decibels)
{
    speakers = juce::jlimit(speakersOff, speakersFull, decibels);
    player.setSpeakers(speakers <= speakersOff ? 0.0F
                                               : juce::Decibels::decibelsToGain(static_cast<float>(speakers), -100.0F));
    if (onChange) onChange();
}

// ------------------------------------------------------------------------------------------------ printing

std::optional<PrintOrder> Desk::order()
{
    if (!slots[0].clip)
    {
        say("Nothing to print: open a spot first.", true);
        return std::nullopt;
    }
    auto found = orderFrom(processor);
    if (!found)
    {
        say("No lag is held yet: measure until it is settled, apply it, or set it by hand.", true);
        return std::nullopt;
    }
    found->spot = slots[0].clip->info.file;
    if (slots[1].clip) found->room = slots[1].clip->info.file;
    return found;
}

void Desk::print(const PrintOrder& wanted)
{
    ++pending;
    say("Printing...");
    background.run(
        [this, wanted]() -> Background::Then
        {
            juce::String text;
            bool failed = false;
            try
            {
                text = juce::String::fromUTF8(standalone::print(wanted).c_str());
            }
            catch (const std::exception& error)
            {
                failed = true;
                text = juce::String::fromUTF8(error.what());
            }
            return [this, text, failed]
            {
                --pending;
                say(text, failed);
            };
        });
}

bool Desk::isDark() const
{
    return processor.screen.get("colours") != "light";
}

int Desk::scalePercent() const
{
    const int percent = juce::String(processor.screen.get("scale")).getIntValue();
    return SetupPage::isScale(percent) ? percent : 100;
}

void Desk::say(const juce::String& text, bool isComplaint)
{
    said = {text, isComplaint};
    if (onChange) onChange();
}
} // namespace tarry::standalone
