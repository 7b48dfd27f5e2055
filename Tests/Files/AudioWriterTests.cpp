#include "Files/AudioWriter.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <algorithm>
#include <cmath>
#include <cstring>

using namespace tarry;
using namespace tarry::test;

namespace
{
AudioInfo infoOf(const std::filesystem::path& file)
{
    return AudioReader(file, 8).info();
}

/// Writes a broadcast wave with libsndfile: what a field recorder leaves.
void makeBroadcastWave(const std::filesystem::path& file, std::uint64_t timeReference)
{
    SF_INFO header{};
    header.channels = 1;
    header.samplerate = 48000;
    header.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    SNDFILE* handle = sf_open(file.c_str(), SFM_WRITE, &header);
    REQUIRE(handle != nullptr);
    SF_BROADCAST_INFO info{};
    std::strcpy(info.description, "Take 7, big drum");
    std::strcpy(info.originator, "Our recorder");
    std::memcpy(info.origination_date, "2031-02-03", 10);
    std::memcpy(info.origination_time, "04:05:06", 8);
    info.time_reference_low = static_cast<std::uint32_t>(timeReference);
    info.time_reference_high = static_cast<std::uint32_t>(timeReference >> 32);
    std::strcpy(info.coding_history, "A=PCM,F=48000,W=24,M=mono,T=ours\r\n");
    info.coding_history_size = static_cast<std::uint32_t>(std::strlen(info.coding_history));
    sf_command(handle, SFC_SET_BROADCAST_INFO, &info, sizeof(info));
    const auto samples = randomIntegers(5000, 24, 8);
    sf_write_int(handle, samples.data(), 5000);
    sf_close(handle);
}

SF_BROADCAST_INFO broadcastIn(const std::filesystem::path& file)
{
    SF_INFO header{};
    SNDFILE* handle = sf_open(file.c_str(), SFM_READ, &header);
    REQUIRE(handle != nullptr);
    SF_BROADCAST_INFO info{};
    CHECK(sf_command(handle, SFC_GET_BROADCAST_INFO, &info, sizeof(info)) == SF_TRUE);
    sf_close(handle);
    return info;
}

std::size_t filesIn(const std::filesystem::path& folder)
{
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(folder), {}));
}
} // namespace

TEST_CASE("stored samples go out exactly as they came in, in the same format")
{
    const TemporaryFolder folder;
    struct Format
    {
        int format, bits;
    };
    for (const auto& [format, bits] : {Format{SF_FORMAT_WAV | SF_FORMAT_PCM_U8, 8},
                                       {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 16},
                                       {SF_FORMAT_WAVEX | SF_FORMAT_PCM_24, 24},
                                       {SF_FORMAT_WAV | SF_FORMAT_PCM_32, 32},
                                       {SF_FORMAT_W64 | SF_FORMAT_PCM_32, 32},
                                       {SF_FORMAT_RF64 | SF_FORMAT_PCM_24, 24},
                                       {SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 16},
                                       {SF_FORMAT_AIFF | SF_FORMAT_PCM_S8, 8},
                                       {SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 24}})
    {
        INFO("format " << std::hex << format);
        makeFile(folder / "in", format, 2, 96000, randomIntegers(6000, bits, 4));
        const auto samples = integersIn(folder / "in");
        AudioWriter writer(folder / "out", infoOf(folder / "in"), 3000);
        writer.write(samples.data(), 1000);
        writer.write(&samples[2000], 2000);
        writer.finish();
        CHECK(integersIn(folder / "out") == samples);
        CHECK((infoOf(folder / "out").format & ~SF_FORMAT_ENDMASK) == format);
        CHECK(infoOf(folder / "out").sampleRate == 96000);
    }
    makeFile(folder / "in", SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 1, 48000,
             std::vector<double>{0.1, -1.0 / 3.0, 1e-30, 1.7});
    const auto samples = doublesIn(folder / "in");
    AudioWriter writer(folder / "out", infoOf(folder / "in"), 4);
    writer.write(samples.data(), 4);
    writer.finish();
    CHECK(doublesIn(folder / "out") == samples);
    CHECK(infoOf(folder / "out").bits() == 64);
}

TEST_CASE("the name's ending chooses the container; one that cannot hold the samples is refused")
{
    const TemporaryFolder folder;
    makeFile(folder / "in.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, randomIntegers(100, 24, 4));
    const auto like = infoOf(folder / "in.wav");
    const auto samples = integersIn(folder / "in.wav");
    for (const auto& [name, container] : std::vector<std::pair<const char*, const char*>>{{"a.W64", "W64"},
                                                                                          {"a.rf64", "RF64"},
                                                                                          {"a.aif", "AIFF"},
                                                                                          {"a.aiff", "AIFF"},
                                                                                          {"a.flac", "FLAC"},
                                                                                          {"a", "WAV"}})
    {
        AudioWriter writer(folder / name, like, 100);
        writer.write(samples.data(), 100);
        writer.finish();
        INFO(name);
        CHECK(infoOf(folder / name).container() == container);
        CHECK(integersIn(folder / name) == samples);
    }
    makeFile(folder / "float.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, 48000, std::vector<double>(10, 0.5));
    const std::size_t before = filesIn(folder.path());
    CHECK_THROWS_AS(AudioWriter(folder / "float.flac", infoOf(folder / "float.wav"), 10), OutputError);
    CHECK(filesIn(folder.path()) == before);
}

TEST_CASE("the broadcast chunk survives, its time reference can be moved, beyond 32 bits too")
{
    const TemporaryFolder folder;
    const std::uint64_t start = 0x1FFFFFF00ULL;
    makeBroadcastWave(folder / "in.wav", start);
    auto info = infoOf(folder / "in.wav");
    CHECK(timeReference(info) == start);
    const auto samples = integersIn(folder / "in.wav");

    for (const std::int64_t moved : {0, 1492, 512, -700})
    {
        auto like = info;
        setTimeReference(like, timeReference(info) + static_cast<std::uint64_t>(moved));
        AudioWriter writer(folder / "out.wav", like, 5000);
        writer.write(samples.data(), 5000);
        writer.finish();
        const auto read = broadcastIn(folder / "out.wav");
        INFO("moved by " << moved);
        CHECK(static_cast<std::int64_t>((static_cast<std::uint64_t>(read.time_reference_high) << 32) |
                                        read.time_reference_low) == static_cast<std::int64_t>(start) + moved);
        CHECK(std::string(read.description) == "Take 7, big drum");
        CHECK(std::string(read.originator, 12) == "Our recorder");
        CHECK(std::string(read.origination_date, 10) == "2031-02-03");
        CHECK(contains(read.coding_history, "T=ours"));
        CHECK(integersIn(folder / "out.wav") == samples);
    }
}

TEST_CASE("rounding to 16 and 24 bits: triangular dither, error free of bias and of the expected power, repeatable")
{
    const TemporaryFolder folder;
    for (const int bits : {16, 24})
    {
        const int format = SF_FORMAT_WAV | (bits == 16 ? SF_FORMAT_PCM_16 : SF_FORMAT_PCM_24);
        makeFile(folder / "like.wav", format, 1, 48000, std::vector<int>(10, 0));
        const std::size_t count = 200000;
        std::vector<float> samples(count);
        const double step = std::ldexp(1.0, 1 - bits);
        for (std::size_t i = 0; i < count; ++i)
            samples[i] = static_cast<float>(step * 3.3 * std::sin(0.01 * static_cast<double>(i))); // barely there
        const auto print = [&](const char* name)
        {
            AudioWriter writer(folder / name, infoOf(folder / "like.wav"), static_cast<std::int64_t>(count));
            const float* channel = samples.data();
            writer.write(&channel, static_cast<int>(count));
            writer.finish();
            CHECK(writer.clipped() == 0);
        };
        print("a.wav");
        print("b.wav");
        CHECK(bytesOf(folder / "a.wav") == bytesOf(folder / "b.wav"));

        const auto read = doublesIn(folder / "a.wav");
        double mean = 0.0;
        double power = 0.0;
        double follows = 0.0; // correlation with the signal: none, or it would be distortion
        for (std::size_t i = 0; i < count; ++i)
        {
            const double error = (read[i] - static_cast<double>(samples[i])) / step;
            mean += error / static_cast<double>(count);
            power += error * error / static_cast<double>(count);
            follows += error * static_cast<double>(samples[i]) / step / static_cast<double>(count);
        }
        // Lipshitz, Wannamaker, Vanderkooy 1992 (from memory): triangular dither, total error 1/4 of a step squared.
        INFO(bits << " bits: mean " << mean << ", power " << power << " (0.25), with the signal " << follows);
        CHECK(std::abs(mean) < 0.005);
        CHECK(power == Approx(0.25).margin(0.005));
        CHECK(std::abs(follows) < 0.02);
    }
}

TEST_CASE("what does not fit is held at full scale and counted; float keeps it")
{
    const TemporaryFolder folder;
    const std::vector<float> samples{1.5F, -1.5F, 0.25F, -1.0F};
    const float* channel = samples.data();
    makeFile(folder / "like.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_32, 1, 48000, std::vector<int>(4, 0));
    AudioWriter writer(folder / "a.wav", infoOf(folder / "like.wav"), 4);
    writer.write(&channel, 4);
    writer.finish();
    CHECK(writer.clipped() == 2);
    CHECK(integersIn(folder / "a.wav") == std::vector<int>{2147483647, -2147483647 - 1, 536870912, -2147483647 - 1});

    makeFile(folder / "float.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, 48000, std::vector<double>(4, 0.0));
    AudioWriter floats(folder / "b.wav", infoOf(folder / "float.wav"), 4);
    floats.write(&channel, 4);
    floats.finish();
    CHECK(floats.clipped() == 0);
    CHECK(doublesIn(folder / "b.wav") == std::vector<double>{1.5, -1.5, 0.25, -1.0});
}

TEST_CASE("without finish there is nothing, and what was there before stays")
{
    const TemporaryFolder folder;
    makeFile(folder / "like.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000, std::vector<int>(10, 0));
    const auto like = infoOf(folder / "like.wav");
    const std::vector<int> samples(10, 65536);
    {
        AudioWriter writer(folder / "new.wav", like, 10);
        writer.write(samples.data(), 10);
        CHECK_FALSE(std::filesystem::exists(folder / "new.wav"));
    }
    CHECK(filesIn(folder.path()) == 1);
    const auto before = bytesOf(folder / "like.wav");
    {
        AudioWriter writer(folder / "like.wav", like, 10);
        writer.write(samples.data(), 10);
    }
    CHECK(bytesOf(folder / "like.wav") == before);
    CHECK(filesIn(folder.path()) == 1);
}

TEST_CASE("a print that would outgrow WAV's 32 bits becomes RF64 and says so in its header")
{
    const TemporaryFolder folder;
    makeFile(folder / "like.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 2, 192000, std::vector<int>(10, 0));
    const std::vector<int> samples(20, 256);
    AudioWriter writer(folder / "long.wav", infoOf(folder / "like.wav"), 800000000); // 4.8 GB were they written
    writer.write(samples.data(), 10);
    writer.finish();
    CHECK(infoOf(folder / "long.wav").container() == "RF64");
}

namespace
{
std::string chunk(const std::string& name, std::string bytes)
{
    const auto size = static_cast<std::uint32_t>(bytes.size());
    std::string text = name;
    for (int i = 0; i < 4; ++i) text += static_cast<char>(size >> (8 * i));
    if (bytes.size() % 2 != 0) bytes += '\0';
    return text + bytes;
}

/// A field recorder's file: bext with a coding history of so many bytes, iXML, a cue point and its label.
void makeFieldRecording(const std::filesystem::path& file, std::size_t history, const std::vector<int>& samples)
{
    makeFile(file, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, samples);
    auto bytes = bytesOf(file);
    std::string bext(602, '\0');
    bext.replace(0, 16, "Take 7, big drum");
    bext.replace(320, 18, "2031-02-0304:05:06");
    bext[338] = 0x40, bext[339] = 0x1F; // 8000 samples since midnight
    while (bext.size() < 602 + history) bext += "A=PCM,F=48000,W=24,M=mono,T=ours\r\n";
    bext.resize(602 + history);
    const std::string ixml = "<?xml version=\"1.0\"?><BWFXML><SPEED><TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO>8000"
                             "</TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO></SPEED><NOTE>our own</NOTE></BWFXML>";
    std::string cue(28, '\0');
    cue[0] = cue[4] = 1;
    cue[8] = 100;
    cue.replace(12, 4, "data");
    cue[24] = 100;
    const std::string label = std::string("adtl") + chunk("labl", std::string("\1\0\0\0here\0", 9));
    bytes += chunk("bext", bext) + chunk("iXML", ixml) + chunk("cue ", cue) + chunk("LIST", label);
    const auto size = static_cast<std::uint32_t>(bytes.size() - 8);
    for (std::size_t i = 0; i < 4; ++i) bytes[4 + i] = static_cast<char>(size >> (8 * i));
    writeBytes(file, bytes);
}

std::string kept(const AudioInfo& info, const std::string& name)
{
    for (const auto& each : info.chunks)
        if (each.name == name) return each.bytes;
    return {};
}
} // namespace

TEST_CASE("what a recording says beside its sound is kept: bext with a history of any length, iXML, cue points, labels")
{
    const TemporaryFolder folder;
    const auto samples = randomIntegers(5000, 24, 8);
    for (const std::size_t history : {0U, 35U, 16000U, 17000U, 44000U})
        for (const char* out : {"out.wav", "out.rf64"})
        {
            makeFieldRecording(folder / "in.wav", history, samples);
            auto info = infoOf(folder / "in.wav");
            INFO("history of " << history << " bytes, " << out);
            CHECK(timeReference(info) == 8000);
            CHECK(originationDate(info) == "2031-02-03");
            auto like = info;
            setTimeReference(like, 9492);
            addToCodingHistory(like, "Tarry, lag 31.084 ms");
            AudioWriter writer(folder / out, like, 5000);
            writer.write(samples.data(), 5000);
            writer.finish();
            CHECK(writer.lost().empty());
            const auto back = infoOf(folder / out);
            CHECK(timeReference(back) == 9492);
            CHECK(back.broadcast.substr(0, 338) == info.broadcast.substr(0, 338));
            CHECK(contains(back.broadcast, info.broadcast.substr(602)));
            CHECK(contains(back.broadcast, "A=PCM,F=48000,W=24,M=mono,T=Tarry  lag 31.084 ms\r\n")); // no comma in it
            CHECK(contains(kept(back, "iXML"), "<NOTE>our own</NOTE>"));
            CHECK(contains(kept(back, "iXML"), "_LO>9492</"));
            CHECK(kept(back, "cue ") == kept(info, "cue "));
            CHECK(contains(kept(back, "LIST"), "here"));
            CHECK(integersIn(folder / out) == samples);
        }
    AudioWriter writer(folder / "out.flac", infoOf(folder / "in.wav"), 5000);
    CHECK(writer.lost() == std::vector<std::string>{"bext", "iXML", "cue ", "LIST"});
}

TEST_CASE("a history too long for a header is not dropped without a word")
{
    const TemporaryFolder folder;
    const auto samples = randomIntegers(5000, 24, 8);
    makeFieldRecording(folder / "in.wav", 200000, samples);
    const auto info = infoOf(folder / "in.wav");
    CHECK(timeReference(info) == 8000);
    AudioWriter writer(folder / "out.wav", info, 5000);
    writer.write(samples.data(), 5000);
    writer.finish();
    CHECK(std::count(writer.lost().begin(), writer.lost().end(), "bext") == 1);
}

TEST_CASE("markers of AIFF and a FLAC file's tags are kept")
{
    const TemporaryFolder folder;
    const auto samples = randomIntegers(1000, 24, 8);
    makeFile(folder / "in.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 1, 48000, samples);
    auto bytes = bytesOf(folder / "in.aiff");
    const std::string mark("MARK\0\0\0\x0E\0\1\0\1\0\0\0\x64\4here\0", 22);
    bytes += mark;
    const auto size = bytes.size() - 8;
    for (std::size_t i = 0; i < 4; ++i) bytes[7 - i] = static_cast<char>(size >> (8 * i));
    writeBytes(folder / "in.aiff", bytes);
    AudioWriter writer(folder / "out.aiff", infoOf(folder / "in.aiff"), 1000);
    writer.write(samples.data(), 1000);
    writer.finish();
    CHECK(contains(kept(infoOf(folder / "out.aiff"), "MARK"), "here"));
    CHECK(integersIn(folder / "out.aiff") == samples);

    SF_INFO header{};
    header.channels = 1, header.samplerate = 48000, header.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
    SNDFILE* handle = sf_open((folder / "in.flac").c_str(), SFM_WRITE, &header);
    sf_set_string(handle, SF_STR_TITLE, "Salt Road");
    sf_write_int(handle, samples.data(), 1000);
    sf_close(handle);
    AudioWriter flac(folder / "out.flac", infoOf(folder / "in.flac"), 1000);
    flac.write(samples.data(), 1000);
    flac.finish();
    const auto strings = infoOf(folder / "out.flac").strings;
    CHECK(std::count(strings.begin(), strings.end(), std::pair<int, std::string>(SF_STR_TITLE, "Salt Road")) == 1);
}

TEST_CASE("a time stamp near the end of its range comes through unharmed")
{
    const TemporaryFolder folder;
    const std::vector<int> samples(100, 65536);
    for (const std::uint64_t stamp : {std::uint64_t{1} << 63, (std::uint64_t{1} << 63) - 1, ~std::uint64_t{0}})
    {
        makeStamped(folder / "in.wav", 48000, std::vector<double>(100, 0.25), stamp);
        CHECK(timeReference(infoOf(folder / "in.wav")) == stamp);
    }
}

TEST_CASE("outside readers find what we write: SoX's length, ffprobe's time reference and coding history", "[outside]")
{
    TARRY_NEED_PROGRAM(ffprobe, "ffprobe");
    const TemporaryFolder folder;
    const auto samples = randomIntegers(5000, 24, 8);
    makeFieldRecording(folder / "in.wav", 35, samples);
    auto like = infoOf(folder / "in.wav");
    setTimeReference(like, 0x1FFFFFF00ULL);
    addToCodingHistory(like, "Tarry lag 31.084 ms");
    AudioWriter writer(folder / "out.wav", like, 5000);
    writer.write(samples.data(), 5000);
    writer.finish();
    const auto told = runProgram({ffprobe, "-v", "error", "-show_format", "-show_streams", folder / "out.wav"});
    INFO(told.output << told.errors);
    CHECK(contains(told.output, "time_reference=8589934336"));
    CHECK(contains(told.output, "Take 7, big drum"));
    CHECK(contains(told.output, "Tarry lag 31.084 ms"));
    CHECK(contains(told.output, "duration_ts=5000"));
}
