#include "Standalone/Desk.h"
#include "Standalone/SavedFiles.h"
#include "Support/Catch.h"

#include <cmath>

using namespace tarry;
using namespace tarry::standalone;
using namespace tarry::test;

namespace
{
juce::File fileOf(const std::filesystem::path& path)
{
    return juce::File(juce::String::fromUTF8(path.c_str()));
}

/// The messages of half a minute at most; true as soon as `done` is.
template <typename Done>
bool wait(Done&& done)
{
    for (int i = 0; i < 3000 && !done(); ++i) juce::MessageManager::getInstance()->runDispatchLoopUntil(10);
    return done();
}

struct Desktop
{
    Desktop()
    {
        desk.start(nullptr, true);
        const auto made = makeRecording({.seed = 11, .hits = 3, .roomChannels = 2});
        save(folder / "spot.wav", made.spot, 48000);
        save(folder / "room.wav", made.room, 48000);
    }

    bool open(Role role, const std::string& name)
    {
        desk.open(role, fileOf(folder / name));
        return wait([this] { return !desk.isBusy(); });
    }

    const juce::ScopedJuceInitialiser_GUI juce;
    const Folder folder;
    Desk desk;
};
} // namespace

TEST_CASE("two files are opened, played from the start without a device, and stopped")
{
    Desktop top;
    auto& desk = top.desk;
    CHECK_FALSE(desk.sound.hasDevice());
    REQUIRE(top.open(Role::spot, "spot.wav"));
    CHECK_FALSE(desk.player.cursor().plays()); // a spot alone is nothing to compare
    REQUIRE(top.open(Role::room, "room.wav"));
    CHECK(desk.message().text.contains("spot.wav: mono"));
    CHECK(desk.message().text.contains("room.wav: stereo"));
    CHECK(wait([&] { return desk.seconds() > 0.05; })); // the silent clock runs
    desk.play(false);
    CHECK(wait(
        [&, before = -1.0]() mutable
        {
            const bool stands = desk.seconds() == before;
            before = desk.seconds();
            return stands;
        }));
}

TEST_CASE("two files dropped at once: the one that is called room is the room")
{
    Desktop top;
    top.desk.open(juce::StringArray{fileOf(top.folder / "room.wav").getFullPathName(),
                                    fileOf(top.folder / "spot.wav").getFullPathName()});
    REQUIRE(wait([&] { return !top.desk.isBusy(); }));
    CHECK(top.desk.file(Role::spot).getFileName() == "spot.wav");
    CHECK(top.desk.file(Role::room).getFileName() == "room.wav");
}

TEST_CASE("a bad file gives one line, and what was open stays; a good one beside it is played all the same")
{
    Desktop top;
    auto& desk = top.desk;
    writeBytes(top.folder / "words.wav", "this is no sound");
    REQUIRE(top.open(Role::spot, "spot.wav"));
    REQUIRE(top.open(Role::room, "words.wav"));
    CHECK(desk.message().isComplaint);
    CHECK(desk.message().text.startsWith("words.wav"));
    CHECK_FALSE(desk.message().text.containsChar('\n'));
    CHECK(desk.file(Role::spot).getFileName() == "spot.wav");
    CHECK(desk.file(Role::room) == juce::File());
    CHECK(desk.duration() > 1.0);

    Desktop other;
    writeBytes(other.folder / "words.wav", "this is no sound");
    other.desk.open(Role::spot, fileOf(other.folder / "spot.wav"));
    other.desk.open(Role::room, fileOf(other.folder / "words.wav"));
    REQUIRE(wait([&] { return !other.desk.isBusy(); }));
    CHECK(other.desk.message().isComplaint);
    CHECK(other.desk.duration() > 1.0);
}

TEST_CASE("without a sound device no blind trial is offered, and the page says why")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Desk desk;
    desk.start(nullptr, true);
    desk.processor.prepareToPlay(48000.0, 512);
    desk.processor.engine().setByHand(Sides::both({0.02875, Polarity::normal}));
    auto& trial = desk.processor.trial();
    const auto controls = desk.processor.parameters.controls();
    CHECK(trial.values(controls).obstacle == "No sound device is open: a trial could not be heard.");
    trial.start(false, controls);
    CHECK_FALSE(trial.values(controls).running);
    trial.setAudible(true);
    CHECK(trial.values(controls).obstacle.empty());
}

TEST_CASE("files of different rates: both are played at the spot's")
{
    Desktop top;
    const auto made = makeRecording({.seed = 12, .sampleRate = 96000.0, .hits = 2});
    save(top.folder / "fine.wav", made.room, 96000);
    REQUIRE(top.open(Role::room, "fine.wav"));
    CHECK(top.desk.sound.sampleRate() == 96000.0);
    REQUIRE(top.open(Role::spot, "spot.wav"));
    CHECK(top.desk.sound.sampleRate() == 48000.0);
    CHECK(top.desk.message().text.contains(juce::String::fromUTF8("96\u00a0kHz, played at 48\u00a0kHz")));
    CHECK(top.desk.player.cursor().plays());
}

TEST_CASE("new material starts from nothing, and one step of undo brings the lag before it back")
{
    Desktop top;
    auto& engine = top.desk.processor.engine();
    REQUIRE(top.open(Role::spot, "spot.wav"));
    engine.setByHand(Sides::both({0.02, Polarity::inverted}));
    REQUIRE(top.open(Role::room, "room.wav"));
    CHECK_FALSE(engine.held());
    CHECK(engine.phase() == Phase::measuring);
    CHECK(engine.undo());
    REQUIRE(engine.held());
    CHECK(engine.held()->side[0] == Alignment{0.02, Polarity::inverted});
}

TEST_CASE("printing needs a spot and a lag, says so, and never writes over what it reads")
{
    Desktop top;
    auto& desk = top.desk;
    CHECK_FALSE(desk.order());
    CHECK(desk.message().text.contains("open a spot"));
    REQUIRE(top.open(Role::spot, "spot.wav"));
    CHECK_FALSE(desk.order());
    CHECK(desk.message().text.contains("No lag"));

    desk.processor.engine().setByHand(Sides::both({0.030, Polarity::inverted}));
    *desk.processor.parameters.lean = 5.0F; // ms
    auto order = desk.order();
    REQUIRE(order);
    order->output = top.folder / "spot.wav";
    const auto before = bytesOf(top.folder / "spot.wav");
    desk.print(*order);
    REQUIRE(wait([&] { return !desk.isBusy(); }));
    CHECK(desk.message().isComplaint);
    CHECK(bytesOf(top.folder / "spot.wav") == before);

    order->output = top.folder / "printed.wav";
    desk.print(*order);
    REQUIRE(wait([&] { return !desk.isBusy(); }));
    INFO(desk.message().text);
    CHECK_FALSE(desk.message().isComplaint);
    CHECK(desk.message().text.contains("35.000 ms later, polarity inverted"));
    const auto spot = doublesIn(top.folder / "spot.wav");
    const auto printed = doublesIn(top.folder / "printed.wav");
    constexpr std::size_t late = 1680; // 35 ms at 48 kHz
    REQUIRE(printed.size() == spot.size() + late);
    std::size_t wrong = 0;
    for (std::size_t k = 0; k < spot.size(); ++k) wrong += printed[k + late] != -spot[k] ? 1U : 0U;
    CHECK(wrong == 0);
}

TEST_CASE("live without a device is refused in one line; with look-ahead, files are still measured side by side")
{
    Desktop top;
    top.desk.setLive(true);
    CHECK_FALSE(top.desk.player.isLive());
    CHECK(top.desk.message().isComplaint);
    CHECK_FALSE(top.desk.processor.setup().roomArrivesLate);
}

TEST_CASE("files are measured as a whole, before they have been played; its print is the command's, bit for bit")
{
    const auto polarity = GENERATE(Polarity::normal, Polarity::inverted);
    Desktop top;
    auto& desk = top.desk;
    // A fraction of a sample, so that every step of the filter counts; 24 bits, so that the dither does.
    const auto made = makeRecording({.seed = 21, .lag = 0.0273331, .polarity = polarity, .hits = 6});
    const auto save24 = [&](const char* name, const std::vector<float>& samples)
    {
        makeFile(top.folder / name, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000,
                 std::vector<double>(samples.begin(), samples.end()));
    };
    save24("close.wav", made.spot[0]);
    save24("far.wav", made.room[0]);
    REQUIRE(top.open(Role::spot, "close.wav"));
    desk.open(Role::room, fileOf(top.folder / "far.wav"));
    auto& engine = desk.processor.engine();
    REQUIRE(wait([&] { return !desk.isBusy() && engine.phase() == Phase::frozen; }));
    INFO("played " << desk.seconds() << " s of " << desk.duration());
    CHECK(engine.report().hitsFound == 6); // all of them, though hardly one has been played
    REQUIRE(engine.held());
    CHECK(std::abs(engine.held()->side[0].lag - 0.0273331) < 0.0005);
    CHECK(engine.held()->side[0].polarity == polarity);

    auto order = desk.order();
    REQUIRE(order);
    order->output = top.folder / "ours.wav";
    desk.print(*order);
    REQUIRE(wait([&] { return !desk.isBusy(); }));
    INFO(desk.message().text);
    REQUIRE_FALSE(desk.message().isComplaint);
    const auto theirs = (top.folder / "theirs.wav").string();
    juce::ChildProcess command;
    REQUIRE(command.start(juce::StringArray{TARRY_COMMAND, "print", (top.folder / "close.wav").string(),
                                            (top.folder / "far.wav").string(), "-o", theirs, "--anyway"}));
    REQUIRE(command.waitForProcessToFinish(60000));
    INFO(command.readAllProcessOutput());
    REQUIRE(command.getExitCode() == 0);
    CHECK(doublesIn(top.folder / "ours.wav") == doublesIn(theirs));
    CHECK(bytesOf(top.folder / "ours.wav") == bytesOf(theirs));
}

TEST_CASE("files are measured anew where reach, clap or channel are set; live inputs are measured as they come")
{
    Desktop top;
    auto& desk = top.desk;
    REQUIRE(top.open(Role::spot, "spot.wav"));
    REQUIRE(top.open(Role::room, "room.wav"));
    auto& engine = desk.processor.engine();
    CHECK(engine.report().hitsFound == 3);
    CHECK_FALSE(desk.measures());
    *desk.processor.parameters.reach = 10.0F; // ms: shorter than the lag
    desk.follow();
    CHECK(desk.measures());
    REQUIRE(wait([&] { return !desk.isBusy(); }));
    CHECK(engine.report().hitsFound == 3);
    desk.follow();
    CHECK_FALSE(desk.measures()); // nothing has changed since
}
