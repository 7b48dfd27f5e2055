#include "Files/CutShort.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("exactly the bytes that are gone are missing")
{
    const TemporaryFolder folder;
    for (const int container : {SF_FORMAT_WAV, SF_FORMAT_WAVEX, SF_FORMAT_W64, SF_FORMAT_RF64, SF_FORMAT_AIFF})
        for (const std::size_t gone : {0U, 1U, 3U, 1000U, 5999U})
        {
            INFO("container " << std::hex << container << std::dec << ", gone " << gone);
            makeFile(folder / "a", container | SF_FORMAT_PCM_24, 1, 48000, randomIntegers(2000, 24, 3)); // 6000 bytes
            auto bytes = bytesOf(folder / "a");
            writeBytes(folder / "a", bytes.substr(0, bytes.size() - gone));
            CHECK(missingBytes(folder / "a") == gone);
        }
}

TEST_CASE("sizes near 2^64 do not wrap: W64, and RF64's ds64")
{
    const TemporaryFolder folder;
    for (const int container : {SF_FORMAT_W64, SF_FORMAT_RF64})
        for (const std::uint64_t size : {~std::uint64_t{0}, ~std::uint64_t{0} - 100, std::uint64_t{1} << 63})
        {
            makeFile(folder / "a", container | SF_FORMAT_PCM_16, 1, 48000, randomIntegers(100, 16, 3));
            auto bytes = bytesOf(folder / "a");
            const auto place = container == SF_FORMAT_W64 ? bytes.find("data") + 16 : bytes.find("ds64") + 16;
            for (std::size_t i = 0; i < 8; ++i) bytes[place + i] = static_cast<char>(size >> (8 * i));
            if (container == SF_FORMAT_RF64) bytes.replace(bytes.find("data", 40) + 4, 4, "\xFF\xFF\xFF\xFF");
            writeBytes(folder / "a", bytes);
            INFO("container " << std::hex << container << ", size " << size);
            CHECK(missingBytes(folder / "a") > std::uint64_t{1} << 62);
        }
}

TEST_CASE("chunks ahead of the sound, odd ones too, are stepped over; big-endian RIFX is understood")
{
    const TemporaryFolder folder;
    makeFile(folder / "a", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000, randomIntegers(100, 16, 3));
    auto bytes = bytesOf(folder / "a");
    bytes.insert(12, std::string("note\x03\0\0\0abc\0", 12));
    writeBytes(folder / "a", bytes);
    CHECK(missingBytes(folder / "a") == 0);
    writeBytes(folder / "a", bytes.substr(0, bytes.size() - 10));
    CHECK(missingBytes(folder / "a") == 10);

    makeFile(folder / "b", SF_FORMAT_WAV | SF_FORMAT_PCM_16 | SF_ENDIAN_BIG, 1, 48000, randomIntegers(100, 16, 3));
    bytes = bytesOf(folder / "b");
    REQUIRE(bytes.substr(0, 4) == "RIFX");
    writeBytes(folder / "b", bytes.substr(0, bytes.size() - 10));
    CHECK(missingBytes(folder / "b") == 10);
}

TEST_CASE("a length left open, as when written to a pipe, promises nothing; neither does a file of another kind")
{
    const TemporaryFolder folder;
    makeFile(folder / "a", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000, randomIntegers(100, 16, 3));
    auto bytes = bytesOf(folder / "a");
    const auto place = bytes.find("data");
    bytes.replace(place + 4, 4, "\xFF\xFF\xFF\xFF");
    writeBytes(folder / "a", bytes);
    CHECK(missingBytes(folder / "a") == 0);

    writeBytes(folder / "b", "RIFF");
    CHECK(missingBytes(folder / "b") == 0);
    writeBytes(folder / "c", "something else altogether");
    CHECK(missingBytes(folder / "c") == 0);
    CHECK(missingBytes(folder / "none") == 0);
}
