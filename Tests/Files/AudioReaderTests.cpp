#include "Files/AudioReader.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <limits>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// What a reader says to a file: its whole line, or nothing.
std::string complaint(const std::filesystem::path& file, int maxChannels = 2)
{
    try
    {
        AudioReader reader(file, maxChannels);
        std::vector<std::vector<float>> samples(static_cast<std::size_t>(reader.info().channels),
                                                std::vector<float>(1000));
        std::vector<float*> pointers;
        for (auto& channel : samples) pointers.push_back(channel.data());
        while (reader.read(pointers.data(), 1000) == 1000)
        {
        }
        return {};
    }
    catch (const InputError& problem)
    {
        return problem.what();
    }
}

constexpr int wav16 = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
} // namespace

TEST_CASE("every container and sample format comes in exactly as it was written")
{
    const TemporaryFolder folder;
    struct Format
    {
        int container, samples, bits;
    };
    for (const auto& [container, samples, bits] : {Format{SF_FORMAT_WAV, SF_FORMAT_PCM_U8, 8},
                                                   {SF_FORMAT_WAV, SF_FORMAT_PCM_16, 16},
                                                   {SF_FORMAT_WAV, SF_FORMAT_PCM_24, 24},
                                                   {SF_FORMAT_WAVEX, SF_FORMAT_PCM_24, 24},
                                                   {SF_FORMAT_WAV, SF_FORMAT_PCM_32, 32},
                                                   {SF_FORMAT_W64, SF_FORMAT_PCM_24, 24},
                                                   {SF_FORMAT_RF64, SF_FORMAT_PCM_24, 24},
                                                   {SF_FORMAT_AIFF, SF_FORMAT_PCM_S8, 8},
                                                   {SF_FORMAT_AIFF, SF_FORMAT_PCM_16, 16},
                                                   {SF_FORMAT_AIFF, SF_FORMAT_PCM_32, 32},
                                                   {SF_FORMAT_FLAC, SF_FORMAT_PCM_16, 16},
                                                   {SF_FORMAT_FLAC, SF_FORMAT_PCM_24, 24}})
        for (const int rate : {44100, 48000, 88200, 96000, 176400, 192000})
        {
            INFO("format " << std::hex << (container | samples) << std::dec << " at " << rate << " Hz");
            const auto file = folder / "in";
            const auto written = randomIntegers(2 * 1500, bits, 5);
            makeFile(file, container | samples, 2, rate, written);
            const AudioReader reader(file, 2);
            CHECK(reader.info().channels == 2);
            CHECK(reader.info().sampleRate == rate);
            CHECK(reader.info().frames == 1500);
            CHECK(reader.info().isInteger());
            CHECK(reader.info().bits() == bits);
            CHECK(integersIn(file) == written);
            CHECK(complaint(file).empty());
        }
}

TEST_CASE("float and double files come in exactly, channels apart, in blocks of any size")
{
    const TemporaryFolder folder;
    std::vector<double> written(3 * 1000);
    std::mt19937 engine(9);
    for (double& sample : written) sample = std::uniform_real_distribution<float>(-2.0F, 2.0F)(engine);
    makeFile(folder / "float.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 3, 48000, written);
    makeFile(folder / "double.aiff", SF_FORMAT_AIFF | SF_FORMAT_DOUBLE, 3, 48000, written);
    CHECK(doublesIn(folder / "float.wav") == written);
    CHECK(doublesIn(folder / "double.aiff") == written);

    AudioReader reader(folder / "float.wav", 8);
    for (const int block : {1, 7, 64, 999, 1000, 4096})
    {
        reader.rewind();
        std::vector<std::vector<float>> samples(3, std::vector<float>(static_cast<std::size_t>(block)));
        float* pointers[] = {samples[0].data(), samples[1].data(), samples[2].data()};
        std::size_t frame = 0;
        bool same = true;
        for (int got = block; got == block;)
        {
            got = reader.read(pointers, block);
            for (std::size_t i = 0; i < static_cast<std::size_t>(got); ++i, ++frame)
                for (std::size_t channel = 0; channel < 3; ++channel)
                    same = same && static_cast<double>(samples[channel][i]) == written[3 * frame + channel];
        }
        INFO("block " << block);
        CHECK(frame == 1000);
        CHECK(same);
    }
}

TEST_CASE("what cannot be measured is refused in one line that names the file and says what to do")
{
    const TemporaryFolder folder;
    const auto some = randomIntegers(6000, 16, 1);
    const auto says = [&](const char* name, const std::string& what)
    {
        const std::string line = complaint(folder / name);
        INFO(line);
        CHECK(contains(line, (folder / name).string()));
        CHECK(contains(line, what));
        CHECK(line.find('\n') == std::string::npos);
    };
    says("nothing.wav", "no such file");

    std::filesystem::create_directory(folder / "folder.wav");
    says("folder.wav", "is a folder");

    writeBytes(folder / "empty.wav", "");
    says("empty.wav", "is empty");

    writeBytes(folder / "text.wav", "Dear diary, today the timpani were late again.\n");
    says("text.wav", "not a sound file");

    makeFile(folder / "silent.wav", wav16, 1, 48000, std::vector<int>{});
    says("silent.wav", "no samples");

    makeFile(folder / "slow.wav", wav16, 1, 32000, some);
    says("slow.wav", "32000 Hz");
    makeFile(folder / "fast.wav", wav16, 1, 384000, some);
    says("fast.wav", "384000 Hz");

    makeFile(folder / "wide.wav", wav16, 3, 48000, some);
    says("wide.wav", "3 channels");

    makeFile(folder / "law.wav", SF_FORMAT_WAV | SF_FORMAT_ULAW, 1, 48000, some);
    says("law.wav", "compressed");
    makeFile(folder / "sun.au", SF_FORMAT_AU | SF_FORMAT_PCM_16, 1, 48000, some);
    says("sun.au", "convert it to WAV");
}

TEST_CASE("a file that was cut short is refused, whatever its container")
{
    const TemporaryFolder folder;
    for (const int container : {SF_FORMAT_WAV, SF_FORMAT_W64, SF_FORMAT_RF64, SF_FORMAT_AIFF, SF_FORMAT_FLAC})
        for (const double share : {0.2, 0.5, 0.9})
        {
            INFO("container " << std::hex << container << ", " << share << " of it left");
            makeFile(folder / "whole", container | SF_FORMAT_PCM_24, 1, 48000, randomIntegers(60000, 24, 2));
            CHECK(complaint(folder / "whole").empty());
            const auto bytes = bytesOf(folder / "whole");
            writeBytes(folder / "short",
                       bytes.substr(0, static_cast<std::size_t>(share * static_cast<double>(bytes.size()))));
            const std::string line = complaint(folder / "short");
            INFO(line);
            CHECK(contains(line, "cut short"));
        }
}

TEST_CASE("a sample that is no number is refused, and its second named")
{
    const TemporaryFolder folder;
    for (const int format : {SF_FORMAT_WAV | SF_FORMAT_FLOAT, SF_FORMAT_AIFF | SF_FORMAT_DOUBLE})
        for (const double wild : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                                  -std::numeric_limits<double>::infinity()})
        {
            std::vector<double> samples(2 * 48000, 0.25);
            samples[2 * 36000 + 1] = wild; // 0.75 s, second channel
            makeFile(folder / "wild", format, 2, 48000, samples);
            const std::string line = complaint(folder / "wild");
            INFO(line);
            CHECK(contains(line, "no number"));
            CHECK(contains(line, "0.750 s"));
        }
}

TEST_CASE("files made by SoX, an independent writer, come in", "[outside]")
{
    TARRY_NEED_PROGRAM(sox, "sox");
    const TemporaryFolder folder;
    struct Kind
    {
        const char* name;
        const char* bits;
        const char* encoding;
    };
    for (const auto& kind : {Kind{"a.wav", "16", "signed-integer"},
                             {"a.wav", "24", "signed-integer"},
                             {"a.wav", "32", "signed-integer"},
                             {"a.wav", "32", "floating-point"},
                             {"a.aiff", "16", "signed-integer"},
                             {"a.aiff", "24", "signed-integer"},
                             {"a.w64", "24", "signed-integer"},
                             {"a.flac", "16", "signed-integer"},
                             {"a.flac", "24", "signed-integer"}})
        for (const char* rate : {"44100", "48000", "96000", "192000"})
        {
            INFO(kind.name << ", " << kind.bits << " bits " << kind.encoding << ", " << rate << " Hz");
            const auto made = runProgram({sox, "-n", "-r", rate, "-c", "2", "-b", kind.bits, "-e", kind.encoding,
                                          folder / kind.name, "synth", "0.5", "sine", "1000", "vol", "0.5"});
            REQUIRE(made.status == 0);
            const AudioReader reader(folder / kind.name, 2);
            CHECK(reader.info().sampleRate == std::stoi(rate));
            CHECK(reader.info().bits() == std::stoi(kind.bits));
            CHECK(reader.info().frames == std::stoi(rate) / 2);
            CHECK(complaint(folder / kind.name).empty());
        }
}
