#pragma once
#include "Files/MeasureFiles.h"
#include "Standalone/Background.h"
#include "Standalone/Printing.h"
#include "Standalone/Sound.h"

namespace tarry::standalone
{
enum class Role
{
    spot,
    room
};

/// Everything the standalone does, without a window: files, player, sound, prints, and the one line it has to say.
/// All of it [screen].
class Desk
{
public:
    Desk();
    ~Desk();

    /// Starts the clock; `silent`: no sound device is looked for.
    void start(const juce::XmlElement* savedDevice, bool silent);

    /// Reads a file in the background. New material starts from nothing, is measured as a whole before a note of it has
    /// been played, and is played; undo brings back the lag that was held for the files before, which fits another take
    /// of the same setup.
    void open(Role role, const juce::File& file);
    /// Two dropped at once: the one whose name says room is the room, else they come as spot, room.
    void open(const juce::StringArray& files);
    [[nodiscard]] juce::File file(Role role) const;

    void play(bool wanted);
    [[nodiscard]] double seconds() const;  ///< where it plays
    [[nodiscard]] double duration() const; ///< s; 0: nothing to play
    void seek(double toSeconds);

    /// Measures the files anew where something that measuring goes by has been set. Now and then.
    void follow();

    /// Live inputs mute the speakers, so that nothing howls; turn them up by hand.
    void setLive(bool wanted);
    void setInputs(const Inputs& wanted);
    [[nodiscard]] const Inputs& inputs() const noexcept { return chosen; }

    static constexpr double speakersOff = -60.0, speakersNormal = -12.0, speakersFull = 0.0; ///< dB
    void setSpeakers(double decibels);
    [[nodiscard]] double speakersDb() const noexcept { return speakers; }

    /// None and a line in `message` where there is nothing to print yet.
    [[nodiscard]] std::optional<PrintOrder> order();
    void print(const PrintOrder& wanted);

    [[nodiscard]] bool isBusy() const noexcept { return pending > 0 || isMeasuring; }
    [[nodiscard]] bool measures() const noexcept { return isMeasuring; } ///< the files, as a whole
    /// What is to be said now, and whether it is a complaint.
    struct Message
    {
        juce::String text;
        bool isComplaint = false;
    };
    [[nodiscard]] const Message& message() const noexcept { return said; }

    /// The colours that the editor was last set to. [screen]
    [[nodiscard]] bool isDark() const;
    /// The scale that was last chosen in the editor, in percent.
    [[nodiscard]] int scalePercent() const;

    Processor processor;
    Player player{processor};
    Sound sound{player};

    std::function<void()> onChange;

private:
    struct Slot
    {
        ClipPointer clip;
        unsigned wish = 0; // counts what was asked for: of two loads only the later one counts
    };

    Slot& slot(Role role) { return slots[role == Role::spot ? 0 : 1]; }
    void load(Role role, const std::filesystem::path& path, bool isNew);
    void arrived(Role role, const ClipPointer& clip, bool isNew);
    void fitRates();
    void handOver();
    void measureWhole();
    void say(const juce::String& text, bool isComplaint = false);

    std::array<Slot, 2> slots;
    Inputs chosen;
    double speakers = speakersNormal, speakersBeforeLive = speakersNormal; // dB
    int pending = 0;
    bool isFresh = false;                 // what comes to the player next is new material
    std::shared_ptr<const Report> whole;  // of both files; null: not measured
    std::optional<MeasureJob> measuredBy; // what the files were last measured by
    unsigned measuring = 0;               // counts what was asked for: only the latest counts
    bool isMeasuring = false;
    Message said;
    Background background; // last: its thread is the first to go
};
} // namespace tarry::standalone
