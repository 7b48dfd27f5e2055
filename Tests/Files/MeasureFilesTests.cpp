#include "Files/MeasureFiles.h"

#include "Files/Errors.h"
#include "Files/Fixtures.h"
#include "Files/PrintFile.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Signals.h"

#include <algorithm>
#include <cmath>

using namespace tarry;
using namespace tarry::test;

namespace
{
constexpr int rate = 48000;
constexpr double lag = 0.0173; // s

MeasureJob jobIn(const TemporaryFolder& folder)
{
    const auto take = makeTake(rate, lag, {evenTimes(5, 0.5, 0.6), 11});
    const auto write = [](const std::filesystem::path& file, const Samples& samples)
    { makeFile(file, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, rate, std::vector<double>(samples.begin(), samples.end())); };
    MeasureJob job;
    job.spot = folder / "spot.wav";
    job.room = folder / "room.wav";
    write(job.spot, take.spot);
    write(job.room, take.room);
    return job;
}

/// How far something said that it had come, each time.
struct Steps
{
    std::vector<double> seconds;
    double all = 0.0;
    void add(double at, double of)
    {
        seconds.push_back(at);
        all = of;
    }
    [[nodiscard]] bool rose() const { return std::is_sorted(seconds.begin(), seconds.end()) && seconds.size() > 1; }
};
} // namespace

TEST_CASE("two files are measured as asked: the lag, the settings and names that go with it, how far it is", "[files]")
{
    const TemporaryFolder folder;
    MeasureJob job = jobIn(folder);
    job.settings.reach = 0.05;
    job.settings.sampleRate = 44100.0; // which the files know better
    job.names.cue = "Salt Road";
    Steps steps;
    const auto measured = measureFiles(job, [&](double at, double of) { steps.add(at, of); });
    REQUIRE(measured.report.lag);
    CHECK(std::abs(*measured.report.lag - lag) < 1e-5);
    CHECK(measured.settings.reach == 0.05);
    CHECK(measured.settings.sampleRate == rate);
    CHECK(measured.names.cue == "Salt Road");
    CHECK(steps.rose());
    CHECK(steps.all == measured.spot.seconds());
    CHECK(steps.seconds.back() >= steps.all); // the room may go on a moment longer

    job.settings.reach = 0.01; // shorter than the lag
    CHECK(measureFiles(job).report.lag.value_or(0.0) < 0.5 * (0.01 + lag));
    job.roomChannel = "2";
    CHECK_THROWS_AS(measureFiles(job), InputError);
}

TEST_CASE("a file is printed as asked, and says how far it is", "[files]")
{
    const TemporaryFolder folder;
    const MeasureJob files = jobIn(folder);
    AudioReader spot(files.spot, 2);
    Steps steps;
    PrintJob job;
    job.sides = {{100.0 / rate, Polarity::inverted}};
    job.howFar = [&](double at, double of) { steps.add(at, of); };
    const auto printed = printFile(spot, folder / "print.wav", job);
    CHECK(printed.heard == std::vector<double>{100.0});
    CHECK(printed.frames == spot.info().frames + 100);
    CHECK(steps.rose());
    CHECK(steps.seconds.back() == steps.all);
    const auto before = doublesIn(files.spot), after = doublesIn(folder / "print.wav");
    std::size_t other = 0;
    for (std::size_t i = 0; i < before.size(); ++i) other += after[i + 100] == -before[i] ? 0U : 1U;
    CHECK(other == 0);
}
