#pragma once
#include "Core/Controls/Sides.h"
#include "Core/Ground/Types.h"

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

/// What a session found, decided and printed, as plain values: all that a recall sheet is written from, however it was
/// measured. SI units. Text is UTF-8. Paths are as the plan writes them or relative to the output folder, with '/', so
/// that the same plan gives the same record on every machine.
namespace tarry
{
/// What is done with a spot: moved, or left as recorded.
enum class Decision
{
    align,
    leave
};

/// One take of a spot as measured on its own, or takes of one setup pooled.
struct LagFigures
{
    std::optional<double> lag; ///< s; none: nothing was found
    Polarity polarity = Polarity::normal;
    Verdict verdict = Verdict::unsure;
    double confidence = 0.0; ///< 0 to 1
    std::vector<std::string> reasons;
    int hitsFound = 0, hitsUsed = 0, hitsAgreeing = 0;
    int hitsUnheard = 0;                      ///< sounds of the spot that the room never answers
    double spread = 0.0;                      ///< s, robust standard deviation of the used hits' own lags
    double clearDb = 0.0;                     ///< dB by which the arrival stands above what comes before it
    double lowSumNormal = 0.0;                ///< dB, at this lag
    double lowSumInverted = 0.0;              ///< dB
    double attackGainDb = 0.0;                ///< summed attack, aligned against as recorded
    double flamBefore = 0.0, flamAfter = 0.0; ///< s
    std::optional<double> driftPpm;           ///< positive: the room falls further behind
    double driftPpmSd = 0.0;                  ///< its standard deviation
};

/// The lag beside a distance by the tape.
struct TapeFigures
{
    double metres = 0.0;     ///< by the tape
    double difference = 0.0; ///< s, lag minus the tape's
    bool agrees = false;
    std::string sentence; ///< what that says, for a mixer
};

/// Since when a take's lag is another than the setup's.
struct Moved
{
    double by = 0.0;                 ///< s, lag minus the setup's before
    std::string sinceCue, sinceTake; ///< the first take at the new place
    std::optional<double> sinceTime; ///< s into that take's spot, where it moved within the take
    std::string sentence;            ///< for a mixer
};

/// A stretch of waveform, drawn small: the lowest and highest sample of each column, full scale 1.
struct Envelope
{
    std::vector<double> low, high; ///< one a column
};

/// One attack, 0 s = the spot's attack as recorded. Columns of all three lie under each other.
struct AttackPicture
{
    double start = 0.0, step = 0.0; ///< s: column i covers start + i * step to start + (i + 1) * step
    Envelope room, spotAsRecorded, spotAligned;
};

/// Where to cut a clip: seconds into the spot's file.
struct ClipCut
{
    double start = 0.0, end = 0.0; ///< s
};

/// What was written for a row.
struct PrintRecord
{
    std::string file;   ///< relative to the output folder: prints/...
    std::string sha256; ///< of the whole file, 64 hexadecimal digits (FIPS 180-4), as sha256sum prints it
    std::int64_t frames = 0;
    std::uint64_t bytes = 0;
    bool timeStampOnly = false; ///< samples untouched, the time reference moved
    double movedSamples = 0.0;  ///< by which the first side was really moved, at the spot's rate
    std::int64_t clipped = 0;   ///< samples held at full scale
    std::string format;         ///< container and sample format in words: "WAV, 24 bit"
};

/// One line of the plan and what became of it.
struct SessionRow
{
    // As planned.
    int line = 0; ///< of the plan, from 1
    std::string cue, take, setup, instrument, note;
    std::string spotFile, roomFile;    ///< as the plan writes them, relative to it
    std::string roomChannel = "first"; ///< first, left, right, centre, or a number from 1
    bool clap = false;                 ///< a clap stands at its head
    std::optional<double> temperature; ///< degrees Celsius, where the plan gives one
    std::optional<Decision> wished;    ///< what the plan says; none: by the verdict
    double lean = 0.0;                 ///< s

    // The files. 0 where they could not be read.
    int spotRate = 0, roomRate = 0; ///< Hz
    int spotChannels = 0, roomChannels = 0;
    std::int64_t spotFrames = 0, roomFrames = 0;
    std::string spotSha256, roomSha256; ///< of what was read
    bool laidByTimeStamp = false;       ///< both carry a time reference; else they are taken to start together
    double roomStartsAfter = 0.0;       ///< s by which the room's file starts after the spot's; negative: before
    std::vector<std::string> notes;     ///< what a mixer should know about the files, one sentence each

    // What was found.
    std::string failure;               ///< why nothing was measured or printed, one line; empty: all went well
    LagFigures own;                    ///< this take alone
    std::string pool;                  ///< SetupRecord::name of the takes it shares its evidence with; empty: it failed
    std::optional<double> againstPool; ///< s, own lag minus the pool's
    bool fromPool = false;             ///< lag and polarity below are the pool's; else the take's own
    std::optional<double> lag;         ///< s, whole nanoseconds: what holds for this take, lean not in it
    Polarity polarity = Polarity::normal;
    Verdict verdict = Verdict::unsure;
    double confidence = 0.0;
    std::vector<std::string> reasons; ///< for this verdict
    std::optional<double> distance;   ///< m, the way through air that the lag stands for
    std::optional<TapeFigures> tape;
    double lowSumNormal = 0.0, lowSumInverted = 0.0; ///< dB, at that lag
    std::optional<Moved> moved;

    // What was decided and done.
    Decision decision = Decision::leave;
    std::string decidedBy, decidedOn;  ///< who, and when (ISO 8601)
    std::vector<std::string> wantsEar; ///< why somebody should listen, one sentence each; empty: nobody needs to
    std::optional<PrintRecord> print;  ///< none: as recorded
    std::string recallLine;            ///< one line that the plugin reads; empty without a lag
    std::optional<AttackPicture> attack;
    std::vector<ClipCut> clips; ///< of the first hits worth hearing, at most four, in order of time

    /// Lag and polarity, and what is applied of them: lean on top.
    [[nodiscard]] Alignment held() const { return {lag.value_or(0.0), polarity}; }
    [[nodiscard]] Alignment applied() const { return leaned(held(), lean); }
    [[nodiscard]] double lagSamples() const { return lag.value_or(0.0) * spotRate; } ///< at the spot's rate
    [[nodiscard]] bool failed() const { return !failure.empty(); }
};

/// Takes that share one spot and one room microphone, nothing moved: their evidence together. A setup of the plan has
/// one for each instrument, and one more after each move.
struct SetupRecord
{
    std::string name;              ///< "A · side drum", "A · side drum, moved": names it once
    std::string setup, instrument; ///< as the plan has them
    std::string firstCue, firstTake, lastCue, lastTake;
    int takes = 0, takesAgreeing = 0; ///< with a lag of their own; within 0.5 ms of the pool's
    bool byClap = false;              ///< a clap at the head of a take decides
    LagFigures pooled;
    double takesSpread = 0.0; ///< s, standard deviation of the takes' own lags about the pool's
};

/// Two recorders whose clocks were compared.
struct MachineRecord
{
    std::string spot, room; ///< by name where the files give one (bext Originator), else by setup and instrument
    double ppm = 0.0;       ///< positive: the room falls further behind
    double ppmSd = 0.0;
    int takes = 0;
    bool matters = false; ///< beyond chance, and more than 0.5 ms over the longest take
};

/// What blind trials say of one spot, or of all of them together, over all listeners.
struct TallyRecord
{
    bool preference = false; ///< asked which is better; else which of the two X is
    std::string name;        ///< of the row, as its trial had it; empty: all of them
    int listeners = 0, answers = 0;
    int hits = 0;                               ///< right answers; or answers that preferred aligned
    double p = 1.0;                             ///< by chance alone: one-sided binomial test; or two-sided sign test
    double low = 0.0, high = 1.0;               ///< 95 % interval of the share of hits (exactInterval)
    int listenersFor = 0, listenersAgainst = 0; ///< each counted once, by most of the answers; none where even
    double listenersP = 1.0;                    ///< the same test over these

    [[nodiscard]] double share() const { return answers > 0 ? static_cast<double>(hits) / answers : 0.0; }
};

struct SessionRecord
{
    static constexpr int schema = 1; ///< of the JSON; goes up when a key changes its meaning

    std::string version; ///< of the Tarry that wrote it
    std::string build;   ///< of that, as `git describe` tells it; may be empty
    std::string plan;    ///< the plan's file name, without folder
    std::string planned; ///< when the plan was last changed, ISO 8601, UTC
    bool wholeSamples = false, timeStamp = false;
    std::vector<std::string> notes; ///< on the whole of it, one sentence each
    std::vector<SessionRow> rows;   ///< in the plan's order
    std::vector<SetupRecord> setups;
    std::vector<MachineRecord> machines;
    std::vector<TallyRecord> tallies; ///< empty until results of blind trials have been pooled

    /// Where the plan's relative paths start, for whoever cuts clips. Not in the JSON.
    std::filesystem::path planFolder;
};

[[nodiscard]] const char* nameOf(Decision decision); ///< align, leave
} // namespace tarry
