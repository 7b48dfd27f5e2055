#include "Command/DrumTake.h"
#include "Core/Delay/Delay.h"
#include "Files/Measurement.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <nlohmann/json.hpp>
#include <sstream>

using namespace tarry;
using namespace tarry::test;

namespace
{
std::string inMs(int samples, int rate)
{
    char text[64];
    std::snprintf(text, sizeof(text), "%.6f", 1e3 * samples / rate); // as a lag is kept: whole nanoseconds
    return text;
}

void checkPrinted(const ProcessResult& result)
{
    INFO(result.errors);
    REQUIRE(result.status == 0);
    CHECK(contains(result.output, "up to 6 dB"));
    CHECK(contains(result.output, "noise exposure"));
}

/// Prints over what an earlier turn of a loop has printed.
ProcessResult printAgain(std::vector<std::string> arguments)
{
    arguments.insert(arguments.begin(), "print");
    arguments.emplace_back("--overwrite");
    return tarryCommand(arguments);
}

/// What the plugin would give: a Delay without latency, at its place from the first sample.
std::vector<double> throughDelay(const std::vector<double>& samples, int rate, const Alignment& alignment,
                                 std::size_t frames)
{
    std::vector<float> line(samples.begin(), samples.end());
    line.resize(frames, 0.0F);
    Delay delay;
    delay.prepare(rate, 1, 0.3, 0.0);
    delay.setAlignment(alignment, false);
    delay.jump();
    float* channel = line.data();
    delay.process(&channel, static_cast<int>(frames));
    return {line.begin(), line.end()};
}
} // namespace

TEST_CASE("whole-sample lags: every format passes bit for bit, later and earlier, in its own format")
{
    const TemporaryFolder folder;
    struct Format
    {
        int format, bits;
    };
    for (const auto& [format, bits] : {Format{SF_FORMAT_WAV | SF_FORMAT_PCM_16, 16},
                                       {SF_FORMAT_WAV | SF_FORMAT_PCM_24, 24},
                                       {SF_FORMAT_WAV | SF_FORMAT_PCM_32, 32},
                                       {SF_FORMAT_W64 | SF_FORMAT_PCM_24, 24},
                                       {SF_FORMAT_RF64 | SF_FORMAT_PCM_32, 32},
                                       {SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 24},
                                       {SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 16}})
        for (const int moved : {1492, 1, 0, -100, 4096, 5000})
        {
            INFO("format " << std::hex << format << std::dec << " moved by " << moved);
            const auto samples = randomIntegers(2 * 20000, bits, 6);
            makeFile(folder / "spot", format, 2, 48000, samples);
            const auto before = bytesOf(folder / "spot");
            checkPrinted(printAgain({folder / "spot", "-o", folder / "out", "--lag-ms", inMs(moved, 48000)}));
            CHECK(bytesOf(folder / "spot") == before);

            std::vector<int> expected(2 * static_cast<std::size_t>(std::max(0, moved)), 0);
            expected.insert(expected.end(), samples.begin() + 2 * std::max(0, -moved), samples.end());
            CHECK(integersIn(folder / "out") == expected);
            CHECK((AudioReader(folder / "out", 2).info().format & ~SF_FORMAT_ENDMASK) == format);
        }
}

TEST_CASE("whole samples on wish, for doubles too, and turned over")
{
    const TemporaryFolder folder;
    const std::vector<double> samples{0.1, -1.0 / 3.0, 1e-30, 0.7, -0.2};
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 1, 48000, samples);
    checkPrinted(tarryCommand({"print", folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "2.01", "--polarity",
                               "inverted", "--whole-samples"}));
    std::vector<double> expected(96, 0.0); // 96.48 samples
    for (const double sample : samples) expected.push_back(-sample);
    CHECK(doublesIn(folder / "out.wav") == expected);
}

TEST_CASE("between samples: exactly what the plugin's delay gives, whole in length")
{
    const TemporaryFolder folder;
    for (const int rate : {44100, 48000, 96000, 192000})
        for (const Polarity polarity : {Polarity::normal, Polarity::inverted})
        {
            const auto samples = Take(21, 2).at(rate, 0.0, 1.0);
            makeFile(folder / "spot.wav", floatWav, 1, rate, samples);
            const auto stored = doublesIn(folder / "spot.wav");
            checkPrinted(printAgain({folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "31.083917",
                                     "--polarity", nameOf(polarity), "--lean", "8.5"}));
            const auto printed = doublesIn(folder / "out.wav");
            INFO(rate << " Hz");
            CHECK(printed.size() ==
                  samples.size() + static_cast<std::size_t>(std::ceil(0.039583917 * rate)) + Delay::halfLength);
            CHECK(printed == throughDelay(stored, rate, {0.039583917, polarity}, printed.size()));
        }
}

TEST_CASE("a stereo spot: both sides alike")
{
    const TemporaryFolder folder;
    const auto left = Take(22, 2).at(48000, 0.0, 1.0);
    const auto right = Take(23, 2).at(48000, 0.0, 0.5);
    makeFile(folder / "spot.wav", floatWav, 2, 48000, interleave({left, right}));
    const auto stored = doublesIn(folder / "spot.wav");
    checkPrinted(tarryCommand({"print", folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "12.345678"}));
    const auto printed = doublesIn(folder / "out.wav");
    for (std::size_t side = 0; side < 2; ++side)
    {
        std::vector<double> in, out;
        for (std::size_t i = side; i < stored.size(); i += 2) in.push_back(stored[i]);
        for (std::size_t i = side; i < printed.size(); i += 2) out.push_back(printed[i]);
        CHECK(out == throughDelay(in, 48000, {0.012345678, Polarity::normal}, out.size()));
    }
}

TEST_CASE("a lag shorter than half the filter falls to a whole sample and it is said; look-ahead keeps the fraction")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, Take(24, 1).at(48000, 0.0, 1.0));
    const auto fell = tarryCommand({"print", folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "0.3"});
    checkPrinted(fell);
    CHECK(contains(fell.output, "nearest whole sample"));
    const auto kept =
        printAgain({folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "0.3", "--look-ahead", "2"});
    checkPrinted(kept);
    CHECK_FALSE(contains(kept.output, "nearest whole sample"));
    CHECK(contains(kept.output, "14.400 samples"));
}

TEST_CASE("fractions in 16 bits are dithered, the same each time")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000, std::vector<int>(48000, 0));
    for (const char* name : {"a.wav", "b.wav"})
        checkPrinted(tarryCommand({"print", folder / "spot.wav", "-o", folder / name, "--lag-ms", "31.0805"}));
    CHECK(bytesOf(folder / "a.wav") == bytesOf(folder / "b.wav"));
    const auto samples = integersIn(folder / "a.wav");
    std::size_t steps = 0;
    for (const int sample : samples)
    {
        REQUIRE(std::abs(sample) <= 65536); // one step
        steps += sample != 0 ? 1U : 0U;
    }
    // Silence under triangular dither: an eighth of the samples rounds up, an eighth down.
    CHECK(static_cast<double>(steps) / static_cast<double>(samples.size()) == Approx(0.25).margin(0.01));
}

TEST_CASE("measured and printed at once is the same as printed by the report")
{
    const TemporaryFolder folder;
    const Take take(25);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, 0.0273141, Polarity::inverted));
    checkPrinted(tarryCommand({"print", folder / "spot.wav", folder / "room.wav", "-o", folder / "a.wav", "--json",
                               folder / "report.json", "--anyway"}));
    const auto report = nlohmann::json::parse(bytesOf(folder / "report.json"));
    REQUIRE(report["lag_ms"].is_number());
    CHECK(report["lag_ms"].get<double>() == Approx(27.3141).margin(0.5));
    checkPrinted(tarryCommand({"print", folder / "spot.wav", "-o", folder / "b.wav", "--lag-ms",
                               report["lag_ms"].dump(), "--polarity", report["polarity"].get<std::string>()}));
    CHECK(bytesOf(folder / "a.wav") == bytesOf(folder / "b.wav"));
}

TEST_CASE("a recall line prints the very same file again; a broken one, or one without a lag, prints nothing")
{
    const TemporaryFolder folder;
    const Take take(29);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, 0.0273141, Polarity::inverted));
    const std::string spot = folder / "spot.wav";
    checkPrinted(tarryCommand({"print", spot, folder / "room.wav", "-o", folder / "a.wav", "--lean", "8.25", "--json",
                               folder / "report.json", "--cue", "Salt Road", "--spot-name", "low tom"}));
    const auto report = nlohmann::json::parse(bytesOf(folder / "report.json"));
    const std::string line = report["recall"];
    INFO(line);
    CHECK(contains(line, "lean=8.25ms"));
    CHECK(contains(line, "rate=48000Hz"));
    checkPrinted(tarryCommand({"print", spot, "-o", folder / "b.wav", "--recall", line}));
    CHECK(bytesOf(folder / "a.wav") == bytesOf(folder / "b.wav"));

    const auto measured = tarryCommand({"measure", spot, folder / "room.wav"});
    CHECK(contains(measured.output, "Tarry recall 1: "));
    for (const auto& broken : {line.substr(0, line.size() / 2), std::string("hello"), std::string()})
    {
        const auto result = tarryCommand({"print", spot, "-o", folder / "c.wav", "--recall", broken});
        INFO(result.errors);
        CHECK(result.status == 2);
        CHECK(isOneLine(result.errors));
        CHECK_FALSE(std::filesystem::exists(folder / "c.wav"));
    }
    CHECK(tarryCommand({"print", spot, "-o", folder / "c.wav", "--recall", line, "--lag-ms", "3"}).status == 2);
    CHECK(tarryCommand({"print", spot, "-o", folder / "c.wav", "--recall", line, "--lean", "3"}).status == 2);
}

TEST_CASE("nothing to apply: refused with what helps, and nothing written")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, std::vector<double>(96000, 0.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, std::vector<double>(96000, 0.0));
    for (const auto& extra : {std::vector<std::string>{folder / "room.wav"}, {folder / "room.wav", "--anyway"}, {}})
    {
        std::vector<std::string> arguments{"print", folder / "spot.wav", "-o", folder / "out.wav"};
        arguments.insert(arguments.end(), extra.begin(), extra.end());
        const auto result = tarryCommand(arguments);
        INFO(result.errors);
        CHECK(result.status == (extra.size() == 1 ? 4 : 2)); // measured, and nothing to go by
        CHECK(isOneLine(result.errors));
        CHECK(contains(result.errors, "--lag-ms"));
    }
    CHECK(filesIn(folder.path()) == 2);
}

TEST_CASE("unrelated tracks are not printed unless one insists")
{
    const TemporaryFolder folder;
    const Take other(27, 9);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, Take(26).at(48000, 0.0, 1.0));
    std::vector<double> elsewhere(static_cast<std::size_t>(48000 * Take(26).seconds()), 0.0);
    const auto hits = other.at(48000, 0.0, 0.1);
    const std::vector<std::size_t> places{11000, 47111, 60000, 91234, 150001, 171000};
    for (std::size_t k = 0; k < places.size(); ++k) // one hit each, in a rhythm of its own
        for (std::size_t i = 0; i < 20000 && places[k] + i < elsewhere.size(); ++i)
            elsewhere[places[k] + i] += hits[24000 + k * 33600 + i];
    makeFile(folder / "room.wav", floatWav, 1, 48000, elsewhere);
    const auto result = tarryCommand({"print", folder / "spot.wav", folder / "room.wav", "-o", folder / "out.wav"});
    INFO(result.output << result.errors);
    CHECK(result.status == 4);
    CHECK(isOneLine(result.errors));
    CHECK_FALSE(std::filesystem::exists(folder / "out.wav"));
}

TEST_CASE("a failed print leaves nothing and touches no input")
{
    TARRY_NEED_PROGRAM(shell, "sh");
    const TemporaryFolder folder;
    const auto samples = randomIntegers(200000, 24, 5);
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, samples);
    const auto before = bytesOf(folder / "spot.wav");
    std::filesystem::create_symlink(folder / "spot.wav", folder / "soft.wav");
    std::filesystem::create_hard_link(folder / "spot.wav", folder / "hard.wav");

    for (const char* name : {"spot.wav", "soft.wav", "hard.wav"})
    {
        const auto result = tarryCommand({"print", folder / "spot.wav", "-o", folder / name, "--lag-ms", "31"});
        INFO(name << ": " << result.errors);
        CHECK(result.status == 2);
        CHECK(isOneLine(result.errors));
        CHECK(contains(result.errors, "same file"));
    }
    for (const std::filesystem::path& place :
         {folder / "none" / "out.wav", folder.path(), std::filesystem::path("/proc/out.wav")})
    {
        const auto result = tarryCommand({"print", folder / "spot.wav", "-o", place, "--lag-ms", "31"});
        INFO(place << ": " << result.errors);
        CHECK(result.status == 3);
        CHECK(isOneLine(result.errors));
        CHECK(contains(result.errors, place.string()));
    }
    // The disk fills: here a limit of 100 blocks on the size of a file.
    const auto full = runProgram({shell, "-c", "ulimit -f 100; exec \"$@\"", "sh", TARRY_COMMAND, "print",
                                  folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "31"});
    INFO(full.errors);
    CHECK(full.status == 3);
    CHECK(isOneLine(full.errors));

    // Damaged in its second half: found while printing.
    makeFile(folder / "damaged.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 1, 48000, samples);
    const auto bytes = bytesOf(folder / "damaged.flac");
    writeBytes(folder / "damaged.flac", bytes.substr(0, bytes.size() / 2));
    const auto damaged = tarryCommand({"print", folder / "damaged.flac", "-o", folder / "out.flac", "--lag-ms", "31"});
    INFO(damaged.errors);
    CHECK(damaged.status == 2);
    CHECK(isOneLine(damaged.errors));

    CHECK(bytesOf(folder / "spot.wav") == before);
    CHECK(filesIn(folder.path()) == 4);
}

TEST_CASE("an earlier print is replaced only when that is asked for, and whole; so is a hall")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, std::vector<double>(1000, 0.25));
    writeBytes(folder / "out.wav", "an old print");
    const auto refused = tarryCommand({"print", folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "10"});
    INFO(refused.errors);
    CHECK(refused.status == 3);
    CHECK(isOneLine(refused.errors));
    CHECK(contains(refused.errors, "--overwrite"));
    CHECK(bytesOf(folder / "out.wav") == "an old print");
    checkPrinted(printAgain({folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "10"}));
    CHECK(doublesIn(folder / "out.wav").size() == 1480);
    CHECK(filesIn(folder.path()) == 2);

    writeBytes(folder / "truth.json", "mine");
    const auto hall = tarryCommand({"hall", "-o", folder.path(), "--scene", "clap"});
    CHECK(hall.status == 3);
    CHECK(isOneLine(hall.errors));
    CHECK(bytesOf(folder / "truth.json") == "mine");
    CHECK(filesIn(folder.path()) == 3);
    CHECK(tarryCommand({"hall", "-o", folder.path(), "--scene", "clap", "--overwrite"}).status == 0);
    CHECK(bytesOf(folder / "truth.json") != "mine");
}

TEST_CASE("an ending that names no container we write is refused, before anything is measured")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, std::vector<double>(1000, 0.25));
    for (const char* name : {"out.mp3", "out.ogg", "out.wave", "out.take7"})
    {
        const auto result = tarryCommand({"print", folder / "spot.wav", "-o", folder / name, "--lag-ms", "10"});
        INFO(result.errors);
        CHECK(result.status == 3);
        CHECK(isOneLine(result.errors));
        CHECK(contains(result.errors, ".flac"));
    }
    CHECK(filesIn(folder.path()) == 1);
}

TEST_CASE("as long as the spot, by choice")
{
    const TemporaryFolder folder;
    const auto samples = randomIntegers(5000, 24, 5);
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, samples);
    for (const int moved : {480, -480, 4800})
    {
        checkPrinted(printAgain(
            {folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", inMs(moved, 48000), "--same-length"}));
        std::vector<int> expected(5000, 0);
        for (int i = 0; i < 5000; ++i)
            if (i - moved >= 0 && i - moved < 5000)
                expected[static_cast<std::size_t>(i)] = samples[static_cast<std::size_t>(i - moved)];
        CHECK(integersIn(folder / "out.wav") == expected);
    }
}

TEST_CASE("full scale turned over in whole numbers: one step is lost, and that is said")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000,
             std::vector<int>{0, -2147483647 - 1, 65536, -2147483647 - 1});
    const auto result = tarryCommand(
        {"print", folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "0", "--polarity", "inverted"});
    checkPrinted(result);
    CHECK(contains(result.output, "2 samples at negative full scale"));
    CHECK(integersIn(folder / "out.wav") == std::vector<int>{0, 32767 * 65536, -65536, 32767 * 65536});
    const auto again =
        printAgain({folder / "out.wav", "-o", folder / "back.wav", "--lag-ms", "0", "--polarity", "inverted"});
    CHECK_FALSE(contains(again.output, "negative full scale"));
}

TEST_CASE("the report of a print describes what was printed: lean, name, every side; also without a measurement")
{
    const TemporaryFolder folder;
    const Take take(28);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, 0.0273141));
    const std::string out = folder / "out.wav";
    const auto told =
        tarryCommand({"print", folder / "spot.wav", folder / "room.wav", "-o", out, "--lean", "8", "--json",
                      folder / "report.json", "--picture", folder / "report.svg", "--cue", "Salt Road", "--take", "3"});
    checkPrinted(told);
    CHECK(contains(told.output, "lean=8.00ms")); // the recall line prints the same again
    const auto report = nlohmann::json::parse(bytesOf(folder / "report.json"));
    INFO(report.dump(1));
    CHECK(report["printed"]["file"] == out);
    CHECK(report["printed"]["lean_ms"] == 8.0);
    CHECK(report["printed"]["sides"][0]["lag_ms"].get<double>() ==
          Approx(report["lag_ms"].get<double>() + 8.0).margin(1e-6));
    CHECK(report["printed"]["frames"] == AudioReader(out, 2).info().frames);
    CHECK(report["names"]["cue"] == "Salt Road");
    const auto picture = bytesOf(folder / "report.svg");
    for (const char* words : {"out.wav", "room leading by 8.00 ms", "cue Salt Road, take 3", "48000 Hz"})
    {
        INFO(words);
        CHECK(contains(picture, words));
    }

    const auto alone = tarryCommand({"print", folder / "spot.wav", "-o", folder / "b.wav", "--lag-ms", "12.5",
                                     "--polarity", "inverted", "--whole-samples", "--json", "-"});
    REQUIRE(alone.status == 0);
    const auto printed = nlohmann::json::parse(alone.output)["printed"];
    CHECK(printed["sides"][0]["polarity"] == "inverted");
    CHECK(printed["sides"][0]["moved_samples"] == 600.0);
    CHECK(printed["whole_samples"] == true);
}

TEST_CASE("a time stamp is moved instead of samples; only WAV can")
{
    const TemporaryFolder folder;
    const auto samples = randomIntegers(3000, 24, 5);
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, samples);
    const std::string spot = folder / "spot.wav";
    const auto stampOf = [](const std::filesystem::path& file) { return timeReference(AudioReader(file, 2).info()); };

    checkPrinted(tarryCommand({"print", spot, "-o", folder / "a.wav", "--lag-ms", "31.084", "--time-stamp"}));
    CHECK(integersIn(folder / "a.wav") == samples);
    CHECK(stampOf(folder / "a.wav") == 1492);

    checkPrinted(tarryCommand({"print", folder / "a.wav", "-o", folder / "b.wav", "--lag-ms", "-10", "--time-stamp"}));
    CHECK(integersIn(folder / "b.wav") == samples);
    CHECK(stampOf(folder / "b.wav") == 1012);

    // A print with samples moved keeps the stamp.
    checkPrinted(tarryCommand({"print", folder / "a.wav", "-o", folder / "c.wav", "--lag-ms", "20.0123"}));
    CHECK(stampOf(folder / "c.wav") == 1492);

    // Inverted: not without being asked, and then each sample's sign alone.
    const std::vector<std::string> inverted{"print",  spot,         "-o",       folder / "d.wav", "--lag-ms",
                                            "31.084", "--polarity", "inverted", "--time-stamp"};
    const auto refused = tarryCommand(inverted);
    INFO(refused.errors);
    CHECK(refused.status == 4);
    CHECK(isOneLine(refused.errors));
    CHECK_FALSE(std::filesystem::exists(folder / "d.wav"));
    auto insisting = inverted;
    insisting.emplace_back("--anyway");
    checkPrinted(tarryCommand(insisting));
    CHECK(stampOf(folder / "d.wav") == 1492);
    auto turned = samples;
    for (int& sample : turned) sample = sample == -2147483647 - 1 ? 0x7FFFFF00 : -sample;
    CHECK(integersIn(folder / "d.wav") == turned);
    std::filesystem::remove(folder / "d.wav");

    for (const auto& [out, lag] : {std::pair("out.flac", "31"), {"out.aiff", "31"}, {"out.wav", "-10"}})
    {
        const auto result = tarryCommand({"print", spot, "-o", folder / out, "--lag-ms", lag, "--time-stamp"});
        INFO(out << ": " << result.errors);
        CHECK(result.status == 2);
        CHECK(isOneLine(result.errors));
        CHECK_FALSE(std::filesystem::exists(folder / out));
    }
    CHECK(filesIn(folder.path()) == 4);
}

TEST_CASE("against SciPy: print is an exact delay in the FFT domain to within -80 dB below 20 kHz", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const TemporaryFolder folder;
    const std::string script = R"(
import sys, numpy as np, scipy.fft as sf
from scipy.io import wavfile
for i in range(1, len(sys.argv), 3):
    rate, spot = wavfile.read(sys.argv[i])
    _, printed = wavfile.read(sys.argv[i + 1])
    lag = float(sys.argv[i + 2]) / 1e3
    n = sf.next_fast_len(len(spot) + len(printed) + rate)
    f = sf.rfftfreq(n, 1 / rate)
    want = sf.rfft(spot.astype(float), n) * np.exp(-2j * np.pi * f * lag)
    band = f < 20000
    error = sf.rfft(printed.astype(float), n)[band] - want[band]
    print(10 * np.log10(np.sum(np.abs(error) ** 2) / np.sum(np.abs(want[band]) ** 2)))
)";
    std::vector<std::string> jobs;
    for (const int rate : {44100, 48000, 96000, 192000})
    {
        // Silence, then noise: the head that an earlier spot loses is empty.
        std::vector<double> samples(static_cast<std::size_t>(rate) / 2, 0.0);
        std::mt19937 engine(41);
        for (std::size_t i = samples.size() / 4; i < samples.size(); ++i)
            samples[i] = std::uniform_real_distribution<float>(-0.5F, 0.5F)(engine);
        const std::string spot = folder / (std::to_string(rate) + ".wav");
        makeFile(spot, floatWav, 1, rate, samples);
        for (const char* lag : {"1.0005", "31.0840017", "35.525", "-7.3303"})
        {
            const std::string out = folder / (std::to_string(jobs.size()) + ".wav");
            checkPrinted(tarryCommand({"print", spot, "-o", out, "--lag-ms", lag}));
            jobs.insert(jobs.end(), {spot, out, lag});
        }
    }
    const auto result = runPython(python, script, jobs);
    INFO(result.errors);
    REQUIRE(result.status == 0);
    std::istringstream errors(result.output);
    for (std::size_t i = 0; i < jobs.size(); i += 3)
    {
        double error = 0.0;
        REQUIRE(errors >> error);
        INFO(jobs[i] << ", " << jobs[i + 2] << " ms: " << error << " dB (limit -80)");
        CHECK(error <= -80.0);
    }
}
