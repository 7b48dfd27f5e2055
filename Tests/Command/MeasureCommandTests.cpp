#include "Command/DrumTake.h"
#include "Files/Measurement.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <array>
#include <cstdio>
#include <limits>
#include <nlohmann/json.hpp>
#include <sys/resource.h>

using namespace tarry;
using namespace tarry::test;
using Json = nlohmann::json;

namespace
{
constexpr double lag = 0.0310837;

Json measure(const std::filesystem::path& spot, const std::filesystem::path& room,
             std::vector<std::string> options = {})
{
    options.insert(options.begin(), {"measure", spot, room, "--json", "-"});
    const auto result = tarryCommand(options);
    INFO(result.errors);
    CHECK(result.status == 0);
    CHECK(result.errors.empty()); // no bar where there is no terminal
    return Json::parse(result.output);
}

void checkLag(const Json& json, double seconds, const char* polarity)
{
    INFO(json.dump(1));
    REQUIRE(json["lag_ms"].is_number());
    CHECK(json["lag_ms"].get<double>() == Approx(seconds * 1e3).margin(0.5));
    CHECK(json["polarity"] == polarity);
}
} // namespace

TEST_CASE("a stranger's take: lag and polarity at every rate")
{
    const TemporaryFolder folder;
    const Take take(11);
    for (const int rate : {44100, 48000, 88200, 96000, 176400, 192000})
    {
        const Polarity polarity = rate % 44100 == 0 ? Polarity::normal : Polarity::inverted;
        makeFile(folder / "spot.wav", floatWav, 1, rate, take.at(rate, 0.0, 1.0));
        makeFile(folder / "room.wav", floatWav, 1, rate, roomOf(take, rate, lag, polarity));
        INFO(rate << " Hz");
        const auto json = measure(folder / "spot.wav", folder / "room.wav");
        checkLag(json, lag, nameOf(polarity));
        CHECK(json["lag_samples"].get<double>() == Approx(json["lag_ms"].get<double>() * rate / 1e3).margin(1e-6));
        CHECK(json["spot"]["sample_rate"] == rate);
        CHECK(json["hits"]["found"].get<int>() >= 5);
    }
}

TEST_CASE("a stranger's take: every format and number of channels")
{
    const TemporaryFolder folder;
    const Take take(12);
    const auto spot = take.at(48000, 0.0, 1.0);
    const auto room = roomOf(take, 48000, lag);
    const std::vector<double> silence(room.size(), 0.0);
    for (const int format :
         {SF_FORMAT_WAV | SF_FORMAT_PCM_16, SF_FORMAT_WAV | SF_FORMAT_PCM_32, SF_FORMAT_WAVEX | SF_FORMAT_PCM_24,
          SF_FORMAT_W64 | SF_FORMAT_PCM_24, SF_FORMAT_RF64 | SF_FORMAT_DOUBLE, SF_FORMAT_AIFF | SF_FORMAT_PCM_24,
          SF_FORMAT_FLAC | SF_FORMAT_PCM_24})
    {
        INFO("format " << std::hex << format);
        makeFile(folder / "spot", format, 2, 48000, interleave({spot, spot}));
        makeFile(folder / "room", format, 3, 48000, interleave({silence, room, silence}));
        checkLag(measure(folder / "spot", folder / "room", {"--room-channel", "right"}), lag, "normal");
        checkLag(measure(folder / "spot", folder / "room", {"--room-channel", "2"}), lag, "normal");
    }
    makeFile(folder / "later", floatWav, 2, 48000, interleave({roomOf(take, 48000, lag + 0.004), room}));
    checkLag(measure(folder / "spot", folder / "later"), lag, "normal"); // the first arrival
    checkLag(measure(folder / "spot", folder / "later", {"--room-channel", "left"}), lag + 0.004, "normal");
    CHECK(tarryCommand({"measure", folder / "spot", folder / "later", "--room-channel", "3"}).status == 2);
    CHECK(tarryCommand({"measure", folder / "spot", folder / "later", "--room-channel", "centre"}).status == 2);
}

TEST_CASE("a stereo spot whose sides differ is told so, with the option that aligns both")
{
    const TemporaryFolder folder;
    const Take take(13);
    const auto left = take.at(48000, 0.0, 1.0), right = take.at(48000, 0.004, 1.0);
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const auto said = [&](std::vector<std::string> options = {})
    {
        options.insert(options.begin(), {"measure", folder / "spot.wav", folder / "room.wav"});
        return tarryCommand(options).output;
    };
    const std::string words = "ms. --each-side aligns both.";
    makeFile(folder / "spot.wav", floatWav, 2, 48000, interleave({left, right}));
    INFO(said());
    CHECK(said().find("The sides differ: left 31.") != std::string::npos);
    CHECK(said().find(words) != std::string::npos);
    CHECK(said({"--each-side"}).find(words) == std::string::npos);
    makeFile(folder / "spot.wav", floatWav, 2, 48000, interleave({left, left}));
    CHECK(said().find(words) == std::string::npos);
}

TEST_CASE("spot and room of different rates: the same lag as at one rate")
{
    const TemporaryFolder folder;
    const Take take(13);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const double alike = measure(folder / "spot.wav", folder / "room.wav")["lag_ms"];
    for (const int rate : {44100, 88200, 96000, 192000})
    {
        makeFile(folder / "other.wav", floatWav, 1, rate, roomOf(take, rate, lag));
        const auto json = measure(folder / "spot.wav", folder / "other.wav");
        INFO(rate << " Hz: " << json["lag_ms"] << " ms, at one rate " << alike << " ms");
        checkLag(json, lag, "normal");
        CHECK(json["lag_ms"].get<double>() == Approx(alike).margin(0.05));
        CHECK(json["notes"].size() == 1);
    }
}

TEST_CASE("a spot later than the room is found with look-ahead")
{
    const TemporaryFolder folder;
    const Take take(14);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, -0.0052));
    checkLag(measure(folder / "spot.wav", folder / "room.wav", {"--look-ahead", "20"}), -0.0052, "normal");
}

TEST_CASE("silence is an answer: unsure, no lag, and why")
{
    const TemporaryFolder folder;
    const Take take(15);
    const auto spot = take.at(48000, 0.0, 1.0);
    const std::vector<double> silence(spot.size(), 0.0);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, spot);
    makeFile(folder / "silent.wav", floatWav, 1, 48000, silence);
    for (const auto& [first, second] :
         {std::pair("spot.wav", "silent.wav"), {"silent.wav", "spot.wav"}, {"silent.wav", "silent.wav"}})
    {
        INFO(first << " " << second);
        const auto json = measure(folder / first, folder / second);
        CHECK(json["lag_ms"].is_null());
        CHECK(json["polarity"].is_null());
        CHECK(json["verdict"] == "unsure");
        REQUIRE_FALSE(json["reasons"].empty());
        CHECK_FALSE(json["reasons"][0].get<std::string>().empty());
    }
    makeFile(folder / "short.wav", floatWav, 1, 48000, std::vector<double>{0.1});
    CHECK(measure(folder / "short.wav", folder / "spot.wav")["lag_ms"].is_null());
}

TEST_CASE("the same file twice is a mistake in routing: said, nothing measured")
{
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, Take(16).at(48000, 0.0, 1.0));
    const auto json = measure(folder / "spot.wav", folder / "spot.wav");
    INFO(json.dump(1));
    CHECK(json["lag_ms"].is_null());
    CHECK(json["verdict"] == "unsure");
}

TEST_CASE("inputs that cannot be measured: status 2, one line that names the file, nothing on standard output")
{
    const TemporaryFolder folder;
    const Take take(17, 2);
    const auto good = take.at(48000, 0.0, 1.0);
    makeFile(folder / "good.wav", floatWav, 1, 48000, good);
    auto wild = good;
    wild[24000] = std::numeric_limits<double>::quiet_NaN();
    makeFile(folder / "nan.wav", floatWav, 1, 48000, wild);
    wild[24000] = std::numeric_limits<double>::infinity();
    makeFile(folder / "inf.wav", floatWav, 1, 48000, wild);
    const auto bytes = bytesOf(folder / "good.wav");
    writeBytes(folder / "cut.wav", bytes.substr(0, bytes.size() / 2));
    writeBytes(folder / "empty.wav", "");
    writeBytes(folder / "text.wav", "no sound at all\n");
    std::filesystem::create_directory(folder / "folder.wav");
    makeFile(folder / "slow.wav", floatWav, 1, 22050, good);
    for (const char* name :
         {"nan.wav", "inf.wav", "cut.wav", "empty.wav", "text.wav", "folder.wav", "slow.wav", "none.wav"})
        for (const bool asSpot : {true, false})
        {
            const std::string bad = folder / name;
            const std::string other = folder / "good.wav";
            const auto result = asSpot ? tarryCommand({"measure", bad, other}) : tarryCommand({"measure", other, bad});
            INFO(name << " -> " << result.status << ": " << result.errors);
            CHECK(result.status == 2);
            CHECK(result.output.empty());
            CHECK(isOneLine(result.errors));
            CHECK(contains(result.errors, bad));
        }
}

TEST_CASE("the JSON file is whole or absent; where it cannot be written the status is 3; it is never an input")
{
    const TemporaryFolder folder;
    const Take take(18, 3);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const std::string spot = folder / "spot.wav";
    const std::string room = folder / "room.wav";

    const auto result = tarryCommand({"measure", spot, room, "--json", folder / "report.json"});
    CHECK(result.status == 0);
    CHECK(contains(result.output, "Verdict"));
    CHECK(contains(result.output, "Lag"));
    const auto alone = tarryCommand({"measure", spot, room, "--json", "-"});
    CHECK(bytesOf(folder / "report.json") == alone.output);

    const auto nowhere = tarryCommand({"measure", spot, room, "--json", folder / "none" / "report.json"});
    CHECK(nowhere.status == 3);
    CHECK(isOneLine(nowhere.errors));

    const auto before = bytesOf(room);
    CHECK(tarryCommand({"measure", spot, room, "--json", room}).status == 2);
    CHECK(bytesOf(room) == before);
    CHECK(filesIn(folder.path()) == 3);
}

TEST_CASE("the picture is whole or absent, holds the lag, and is never an input")
{
    const TemporaryFolder folder;
    const Take take(20, 3);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const std::string spot = folder / "spot.wav", room = folder / "room.wav", picture = folder / "tom.svg";

    const auto json = measure(spot, room, {"--picture", picture});
    std::array<char, 32> words{};
    std::snprintf(words.data(), words.size(), "lag %.3f ms", json["lag_ms"].get<double>());
    INFO(words.data());
    CHECK(contains(bytesOf(picture), words.data()));
    CHECK(contains(bytesOf(picture), "</svg>"));
    CHECK(filesIn(folder.path()) == 3); // nothing half-written beside it

    for (const std::string& input : {spot, room})
    {
        const auto before = bytesOf(input);
        const auto result = tarryCommand({"measure", spot, room, "--picture", input});
        INFO(result.errors);
        CHECK(result.status == 2);
        CHECK(isOneLine(result.errors));
        CHECK(bytesOf(input) == before);
    }
    std::filesystem::create_symlink(room, folder / "link.svg");
    const auto before = bytesOf(room);
    CHECK(tarryCommand({"measure", spot, room, "--picture", folder / "link.svg"}).status == 2);
    CHECK(bytesOf(room) == before);

    const std::string twice = folder / "." / "tom.svg";
    CHECK(tarryCommand({"measure", spot, room, "--picture", picture, "--json", twice}).status == 2);
    CHECK(tarryCommand({"print", spot, room, "-o", picture, "--picture", twice}).status == 2);
    const auto nowhere = tarryCommand({"measure", spot, room, "--picture", folder / "none" / "tom.svg"});
    CHECK(nowhere.status == 3);
    CHECK(isOneLine(nowhere.errors));
}

TEST_CASE("a picture that cannot be written to its end leaves the one before", "[outside]")
{
    const std::filesystem::path full = "/dev/full"; // Linux: every write fails with "no space left"
    if (!std::filesystem::exists(full)) TARRY_SKIP("no /dev/full here");
    const TemporaryFolder folder;
    const Take take(21, 2);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const auto result = tarryCommand({"measure", folder / "spot.wav", folder / "room.wav", "--picture", full});
    INFO(result.errors);
    CHECK(result.status == 3);
    CHECK(isOneLine(result.errors));
}

TEST_CASE("the tape, in metres or feet: said in the summary, and the lag stays")
{
    const TemporaryFolder folder;
    const Take take(22, 4);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const auto without = measure(folder / "spot.wav", folder / "room.wav");
    struct Tape
    {
        const char* text;
        double metres;
        bool agrees;
    };
    for (const auto& [text, metres, agrees] :
         {Tape{"35ft", 35.0 * 0.3048, true}, Tape{"35 ft", 35.0 * 0.3048, true}, Tape{"10.9", 10.9, true},
          Tape{"10.9m", 10.9, true}, Tape{"10", 10.0, false}, Tape{"12", 12.0, false}})
    {
        const auto json = measure(folder / "spot.wav", folder / "room.wav", {"--taped", text});
        INFO(text << ": " << json["tape"]);
        CHECK(json["taped_m"].get<double>() == Approx(metres).margin(1e-4));
        CHECK(json["tape_agrees"] == agrees);
        CHECK(json["lag_ms"] == without["lag_ms"]);
    }
    const auto summary = tarryCommand({"measure", folder / "spot.wav", folder / "room.wav", "--taped", "12"}).output;
    INFO(summary);
    CHECK(contains(summary, "Tape"));
    CHECK(contains(summary, "do not agree"));
}

TEST_CASE("two clocks: drift is measured, and said where it matters over the cue")
{
    const TemporaryFolder folder;
    struct Cue
    {
        double ppm;
        int hits;
        bool matters;
    };
    // 60 hits are 42 s: 30 ppm change the lag by 1.3 ms over them, 3 ppm by 0.13 ms; over 20 hits 30 ppm by 0.45 ms.
    for (const auto& [ppm, hits, matters] :
         {Cue{30.0, 60, true}, Cue{-30.0, 60, true}, Cue{3.0, 60, false}, Cue{30.0, 20, false}})
    {
        const Take take(23, hits);
        makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
        makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag, Polarity::normal, ppm * 1e-6));
        const auto json = measure(folder / "spot.wav", folder / "room.wav");
        INFO(ppm << " ppm, " << hits << " hits: measured " << json["drift_ppm"] << " give or take "
                 << json["drift_ppm_sd"] << "\n"
                 << json["reasons"].dump(1));
        REQUIRE(json["drift_ppm"].is_number());
        CHECK(std::abs(json["drift_ppm"].get<double>() - ppm) <=
              std::max(2.0, 4.0 * json["drift_ppm_sd"].get<double>()));
        CHECK(contains(json["reasons"].dump(), "drifts") == matters);
    }
}

TEST_CASE("memory does not grow with the length of the files")
{
    const TemporaryFolder folder;
    const auto measureFor = [&](int minutes)
    {
        for (const char* name : {"spot.wav", "room.wav"}) // silence, sparse on the disk
        {
            makeFile(folder / name, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, std::vector<int>(48000, 0));
            const std::uint64_t seconds = std::uint64_t{60} * static_cast<unsigned>(minutes);
            auto bytes = bytesOf(folder / name);
            const auto data = bytes.find("data");
            const auto size = static_cast<std::uint32_t>(seconds * 48000U * 3U);
            for (std::size_t i = 0; i < 4; ++i) bytes[data + 4 + i] = static_cast<char>(size >> (8 * i));
            writeBytes(folder / name, bytes);
            std::filesystem::resize_file(folder / name, data + 8 + size);
        }
        CHECK(measure(folder / "spot.wav", folder / "room.wav")["spot"]["frames"] == minutes * 60 * 48000);
        rusage usage{};
        getrusage(RUSAGE_CHILDREN, &usage);
        return usage.ru_maxrss; // kB, the largest child so far
    };
    const long small = measureFor(1);
    const long large = measureFor(15);
    INFO("one minute " << small << " kB, fifteen minutes " << large << " kB");
    CHECK(large - small < 8192);
}

TEST_CASE("broadcast waves that start at different times are laid by their stamps; the hits' times are the spot's")
{
    const TemporaryFolder folder;
    const Take take(24);
    const auto spot = take.at(48000, 0.0, 1.0);
    const auto room = roomOf(take, 48000, lag);
    const std::uint64_t noon = 12ULL * 3600 * 48000;
    makeFile(folder / "spot.wav", floatWav, 1, 48000, spot);
    makeFile(folder / "room.wav", floatWav, 1, 48000, room);
    const auto together = measure(folder / "spot.wav", folder / "room.wav");
    checkLag(together, lag, "normal");
    const double firstHit = together["each_hit"][0]["time_s"];

    makeStamped(folder / "spot-late.wav", 48000, {spot.begin() + 5000, spot.end()}, noon + 5000);
    makeStamped(folder / "spot-on.wav", 48000, spot, noon);
    makeStamped(folder / "room-on.wav", 48000, room, noon);
    makeStamped(folder / "room-late.wav", 48000, {room.begin() + 12345, room.end()}, noon + 12345);
    for (const auto& [one, other, start] : {std::tuple("spot-late.wav", "room-on.wav", 5000.0 / 48000.0),
                                            {"spot-on.wav", "room-late.wav", 0.0},
                                            {"spot-late.wav", "room-late.wav", 5000.0 / 48000.0}})
    {
        const auto json = measure(folder / one, folder / other);
        INFO(one << " " << other << ": " << json["lag_ms"] << " ms, together " << together["lag_ms"]);
        checkLag(json, lag, "normal");
        CHECK(json["lag_ms"].get<double>() == Approx(together["lag_ms"].get<double>()).margin(0.02));
        CHECK(json["each_hit"][0]["time_s"].get<double>() == Approx(firstHit - start).margin(0.003));
        CHECK(contains(json["notes"].dump(), "Laid by their time stamps"));
    }
    const auto apart = measure(folder / "spot-late.wav", folder / "room-on.wav", {"--start-together"});
    CHECK(apart["verdict"] != "align"); // 104 ms more are beyond the reach
    CHECK(together["verdict"] == "align");
    CHECK(contains(apart["notes"].dump(), "taken to start together, as asked"));
}

TEST_CASE("several spots against one room: a report each, and one that cannot be read stops no other")
{
    const TemporaryFolder folder;
    const Take take(25);
    makeFile(folder / "snare.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "tom.wav", floatWav, 1, 48000, take.at(48000, 0.005, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const std::string snare = folder / "snare.wav", tom = folder / "tom.wav", room = folder / "room.wav";
    const auto result = tarryCommand({"measure", snare, tom, "--room", room, "--json", "-"});
    INFO(result.errors);
    REQUIRE(result.status == 0);
    const auto json = Json::parse(result.output);
    REQUIRE(json.size() == 2);
    checkLag(json[0], lag, "normal");
    checkLag(json[1], lag - 0.005, "normal");
    CHECK(json[1]["spot"]["file"] == tom);
    CHECK(json[0] == measure(snare, room));

    const auto broken = tarryCommand({"measure", snare, folder / "none.wav", tom, "--room", room, "--json", "-"});
    CHECK(broken.status == 2);
    CHECK(isOneLine(broken.errors));
    CHECK(contains(broken.errors, "none.wav"));
    CHECK(Json::parse(broken.output).size() == 2);
    CHECK(tarryCommand({"measure", snare, tom, room}).status == 2);
    CHECK(tarryCommand({"measure", snare, tom, "--room", room, "--picture", folder / "a.svg"}).status == 2);
}

TEST_CASE("a clipped spot is told, in the plugin's words")
{
    const TemporaryFolder folder;
    const Take take(26, 4);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 4.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag));
    const auto result = tarryCommand({"measure", folder / "spot.wav", folder / "room.wav"});
    INFO(result.output);
    CHECK(contains(result.output, "The spot clips: turn it down before the insert."));
}

TEST_CASE("takes made by SoX come in, broadcast wave or not", "[outside]")
{
    TARRY_NEED_PROGRAM(sox, "sox");
    const TemporaryFolder folder;
    const Take take(19);
    makeFile(folder / "spot.wav", floatWav, 1, 48000, take.at(48000, 0.0, 1.0));
    makeFile(folder / "room.wav", floatWav, 1, 48000, roomOf(take, 48000, lag, Polarity::inverted));
    for (const std::string ending : {".wav", ".aiff", ".w64", ".flac"})
        for (const char* bits : {"16", "24"})
        {
            INFO(ending << " " << bits);
            for (const char* name : {"spot", "room"})
                REQUIRE(runProgram({sox, folder / (std::string(name) + ".wav"), "-b", bits, "-r", "96000",
                                    folder / (std::string(name) + "-sox" + ending)})
                            .status == 0);
            checkLag(measure(folder / ("spot-sox" + ending), folder / ("room-sox" + ending)), lag, "inverted");
        }
}
