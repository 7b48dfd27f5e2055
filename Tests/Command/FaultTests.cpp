#include "Command/DrumTake.h"
#include "Command/Faults.h"
#include "Support/Catch.h"
#include "Support/HowMany.h"

#include <cerrno>
#include <random>

using namespace tarry;
using namespace tarry::test;

namespace
{
ProcessResult printWithFault(const TemporaryFolder& folder, const std::string& fault,
                             std::vector<std::string> arguments, const std::filesystem::path& met = "/dev/null")
{
    arguments.insert(arguments.begin(), "print");
    return runWithFault(folder.path(), fault, arguments, met);
}

struct Kind
{
    const char* ending;
    int format, bits;
};
const std::vector<Kind> kinds{{".wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 24},
                              {".w64", SF_FORMAT_W64 | SF_FORMAT_PCM_16, 16},
                              {".rf64", SF_FORMAT_RF64 | SF_FORMAT_PCM_32, 32},
                              {".flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 24},
                              {".aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 24}};
} // namespace

TEST_CASE("a disk that fills up anywhere in the last 64 pages: status 3, one line, and what was there stays",
          "[faults]")
{
    TARRY_NEED_FAULTS();
    for (const auto& [ending, format, bits] : kinds)
    {
        const TemporaryFolder folder;
        const std::string spot = folder / (std::string("spot") + ending), out = folder / (std::string("out") + ending);
        makeFile(spot, format, 1, 48000, randomIntegers(150000, bits, 9));
        REQUIRE(tarryCommand({"print", spot, "-o", out, "--lag-ms", "31"}).status == 0);
        const auto before = bytesOf(out);
        const auto size = static_cast<long>(before.size());
        for (int page = 0; page <= 64; ++page)
        {
            const long limit = page == 0 ? size - 1 : size - 4096L * page;
            const auto result = printWithFault(folder, "full " + std::to_string(limit),
                                               {spot, "-o", out, "--lag-ms", "31", "--overwrite"});
            INFO(ending << " full at " << limit << " of " << size << ": " << result.status << " " << result.errors);
            REQUIRE(result.status == 3);
            REQUIRE(isOneLine(result.errors));
            REQUIRE(contains(result.errors, out));
            REQUIRE(bytesOf(out) == before);
            REQUIRE(filesIn(folder.path()) == 2);
        }
        const auto enough =
            printWithFault(folder, "full " + std::to_string(size), {spot, "-o", out, "--lag-ms", "31", "--overwrite"});
        INFO(enough.errors);
        CHECK(enough.status == 0);
    }
}

TEST_CASE("every call that can fail, failing once: whole output or none, and one line", "[faults]")
{
    TARRY_NEED_FAULTS();
    const int most = howMany("TARRY_FAULTS_OF_A_CALL", 40);
    for (const auto& [ending, format, bits] : kinds)
    {
        const TemporaryFolder folder, aside;
        const std::string spot = folder / (std::string("spot") + ending), out = folder / (std::string("out") + ending);
        const auto met = aside / "met";
        makeFile(spot, format, 1, 48000, randomIntegers(120000, bits, 9));
        const std::vector<std::string> arguments{spot, "-o", out, "--lag-ms", "31"};
        REQUIRE(printWithFault(folder, "none", arguments).status == 0);
        const auto whole = bytesOf(out);
        int failed = 0;
        std::string calls;
        for (const std::string call : {"open", "write", "fsync", "rename", "link", "fchmod", "read"})
            for (const bool replacing : {false, true})
                for (int at = 1; at <= most; ++at)
                {
                    std::filesystem::remove(met);
                    if (replacing)
                        writeBytes(out, "an old print");
                    else
                        std::filesystem::remove(out);
                    auto again = arguments;
                    if (replacing) again.emplace_back("--overwrite");
                    const auto result = printWithFault(
                        folder, call + " " + std::to_string(at) + " " + std::to_string(call == "open" ? EACCES : EIO),
                        again, met);
                    INFO(ending << ", " << call << " " << at << (replacing ? " replacing" : "") << ": " << result.status
                                << " " << result.errors);
                    const std::string left = std::filesystem::exists(out) ? bytesOf(out) : "";
                    const bool before = left == (replacing ? "an old print" : ""), printed = left == whole;
                    REQUIRE((before || printed));
                    REQUIRE(filesIn(folder.path()) == (left.empty() ? 1U : 2U));
                    if (result.status == 0) REQUIRE(printed); // also where the call was not made so often
                    if (result.status != 0)
                    {
                        ++failed;
                        REQUIRE((result.status == 3 || (call == "read" && result.status == 2)));
                        REQUIRE(isOneLine(result.errors));
                    }
                    if (!std::filesystem::exists(met))
                    {
                        REQUIRE(result.status == 0);
                        calls += " " + call + (replacing ? " again " : " ") + std::to_string(at - 1);
                        break; // there are no more such calls
                    }
                }
        INFO(ending << ": " << failed << " faults were told; of each call there were:" << calls);
        CHECK(failed > 10); // the faults are at work
    }
}

TEST_CASE("a made-up hall is whole or is not there: none of its three files, nor its folder", "[faults]")
{
    TARRY_NEED_FAULTS();
    const TemporaryFolder folder, aside;
    const auto met = aside / "met";
    for (const std::string call : {"open", "write", "fsync", "link"})
        for (int at = 1;; ++at)
        {
            std::filesystem::remove(met);
            const auto result =
                runWithFault(folder.path(), call + " " + std::to_string(at) + " " + std::to_string(ENOSPC),
                             {"hall", "-o", (folder / "hall").string(), "--hits", "1"}, met);
            INFO(call << " " << at << ": " << result.status << " " << result.errors);
            const bool isThere = std::filesystem::exists(folder / "hall");
            if (!std::filesystem::exists(met))
            {
                CHECK(at > 3); // one for each file at least
                REQUIRE(result.status == 0);
                REQUIRE(filesIn(folder / "hall") == 3);
                std::filesystem::remove_all(folder / "hall");
                break;
            }
            if (result.status == 0)
                REQUIRE(filesIn(folder / "hall") == 3); // there was another way
            else
            {
                REQUIRE(result.status == 3);
                REQUIRE(isOneLine(result.errors));
                REQUIRE_FALSE(isThere);
            }
            std::filesystem::remove_all(folder / "hall");
        }
}

TEST_CASE("what to do is said by what went wrong", "[faults]")
{
    TARRY_NEED_FAULTS();
    const TemporaryFolder folder;
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 1, 48000, randomIntegers(12000, 24, 9));
    const auto said = [&](const std::string& call, int error)
    {
        return printWithFault(folder, call + " 1 " + std::to_string(error),
                              {folder / "spot.wav", "-o", folder / "out.wav", "--lag-ms", "31"})
            .errors;
    };
    CHECK(contains(said("open", EACCES), "choose a folder that you may write in"));
    CHECK(contains(said("open", EROFS), "choose a folder that you may write in"));
    for (const std::string call : {"open", "write", "fsync"})
    {
        INFO(call);
        CHECK(contains(said(call, ENOSPC), "make room"));
        CHECK(contains(said(call, EIO), "check the disk"));
    }
}

TEST_CASE("killed at 200 random moments: whole or nothing, and the next print leaves nothing of them", "[faults]")
{
    TARRY_NEED_PROGRAM(shell, "sh");
    const TemporaryFolder folder;
    const unsigned seed = 12;
    INFO("seed " << seed);
    std::mt19937 random(seed);
    makeFile(folder / "spot.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 2, 48000, randomIntegers(2000000, 24, 9));
    const std::string spot = folder / "spot.wav", out = folder / "out.wav";
    REQUIRE(tarryCommand({"print", spot, "-o", out, "--lag-ms", "31.0805"}).status == 0);
    const auto whole = bytesOf(out);
    writeBytes(out, "an old print");
    int killed = 0, left = 0;
    const int kills = howMany("TARRY_KILLS", 200);
    for (int i = 0; i < kills; ++i)
    {
        const std::string killIt = R"(delay=$1; shift; "$@" & sleep $delay; kill -9 $! 2>/dev/null; wait $!)";
        const auto result =
            runProgram({shell, "-c", killIt, "sh", std::to_string(0.001 * static_cast<double>(1 + random() % 200)),
                        TARRY_COMMAND, "print", spot, "-o", out, "--lag-ms", "31.0805", "--overwrite"});
        killed += result.status == 0 ? 0 : 1;
        left = std::max(left, static_cast<int>(filesIn(folder.path())) - 2);
        const auto now = bytesOf(out);
        const bool sound = now == whole || now == "an old print";
        REQUIRE(sound);
        if (now == whole) writeBytes(out, "an old print");
    }
    INFO(killed << " of " << kills << " were killed, " << left << " temporary files lay about at most");
    CHECK(10 * killed > kills);
    CHECK(left <= 1); // each print clears what the killed one before it left
    REQUIRE(tarryCommand({"print", spot, "-o", out, "--lag-ms", "31.0805", "--overwrite"}).status == 0);
    CHECK(filesIn(folder.path()) == 2);
    CHECK(bytesOf(out) == whole);
}
