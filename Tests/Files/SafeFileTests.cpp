#include "Files/SafeFile.h"

#include "Files/Fixtures.h"
#include "Files/System.h"
#include "Support/Catch.h"
#include "Support/Process.h"

#include <set>
#include <sys/stat.h>
#include <unistd.h>

using namespace tarry;
using namespace tarry::test;
namespace fs = std::filesystem;

TEST_CASE("a file appears whole when it is committed, and not at all when it is not")
{
    const TemporaryFolder folder;
    {
        SafeFile file(folder / "a");
        writeBytes(file.temporary(), "half");
        CHECK(file.temporary().parent_path() == folder.path()); // same disk, so that moving it is one step
    }
    CHECK(fs::is_empty(folder.path()));
    {
        SafeFile file(folder / "a");
        writeBytes(file.temporary(), "whole");
        file.commit();
    }
    CHECK(bytesOf(folder / "a") == "whole");
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 1);
}

TEST_CASE("places that cannot hold a file are refused before anything is written")
{
    const TemporaryFolder folder;
    CHECK_THROWS_AS(SafeFile(folder.path()), OutputError);
    CHECK_THROWS_AS(SafeFile(folder / "none" / "a"), OutputError);
    CHECK_THROWS_AS(SafeFile(folder.path().string() + "/"), OutputError);
    CHECK_THROWS_AS(SafeFile("/dev/null"), OutputError);
    writeBytes(folder / "plain", "");
    CHECK_THROWS_AS(SafeFile(folder / "plain" / "a"), OutputError);
}

TEST_CASE("an output that is a link: the link stays, what it points to is replaced")
{
    const TemporaryFolder folder;
    writeBytes(folder / "real", "old");
    fs::create_symlink(folder / "real", folder / "link");
    writeTextFile(folder / "link", "new");
    CHECK(bytesOf(folder / "real") == "new");
    CHECK(fs::is_symlink(folder / "link"));
}

TEST_CASE("an input is known again by any path, symbolic or hard link")
{
    const TemporaryFolder folder;
    writeBytes(folder / "spot", "x");
    writeBytes(folder / "other", "x");
    fs::create_directory(folder / "sub");
    fs::create_symlink(folder / "spot", folder / "soft");
    fs::create_hard_link(folder / "spot", folder / "hard");
    for (const fs::path& same : {folder / "spot", folder / "soft", folder / "hard", folder / "sub" / ".." / "spot"})
    {
        INFO(same.string());
        CHECK_THROWS_AS(refuseToOverwrite(same, {folder / "other", folder / "spot"}), InputError);
    }
    CHECK_NOTHROW(refuseToOverwrite(folder / "other", {folder / "spot"}));
    CHECK_NOTHROW(refuseToOverwrite(folder / "new", {folder / "spot"}));
}

TEST_CASE("what is there stays where that was asked for, also what comes there meanwhile")
{
    const TemporaryFolder folder;
    writeBytes(folder / "a", "mine");
    CHECK_THROWS_AS(SafeFile(folder / "a", Existing::refuse), OutputError);
    CHECK_THROWS_AS(writeTextFile(folder / "a", "yours", Existing::refuse), OutputError);
    SafeFile file(folder / "b", Existing::refuse);
    REQUIRE(system::write(file.descriptor(), "yours") == 0);
    writeBytes(folder / "b", "mine");
    CHECK_THROWS_AS(file.commit(), OutputError);
    CHECK(bytesOf(folder / "a") == "mine");
    CHECK(bytesOf(folder / "b") == "mine");
}

TEST_CASE("temporary names cannot be guessed, and a name of 250 characters is legal")
{
    const TemporaryFolder folder;
    const std::string name(250, 'n');
    std::set<std::string> names;
    for (int i = 0; i < 20; ++i) names.insert(SafeFile(folder / name).temporary().filename().string());
    CHECK(names.size() == 20);
    for (const auto& each : names)
    {
        CHECK(each.size() < 40);
        CHECK_FALSE(contains(each, std::to_string(getpid())));
    }
    writeTextFile(folder / name, "whole");
    CHECK(bytesOf(folder / name) == "whole");
    CHECK_THROWS_AS(SafeFile(folder / std::string(256, 'n')), OutputError);
}

TEST_CASE("mode and group are those of the file that is replaced; a new file's follow the umask")
{
    const TemporaryFolder folder;
    const auto modeOf = [](const fs::path& file)
    {
        struct stat about
        {
        };
        REQUIRE(stat(file.c_str(), &about) == 0);
        return about.st_mode & 07777;
    };
    for (const mode_t mode : {0600U, 0644U, 0664U, 0640U})
    {
        writeBytes(folder / "a", "old");
        REQUIRE(chmod((folder / "a").c_str(), mode) == 0);
        {
            const SafeFile file(folder / "a");
            CHECK(modeOf(file.temporary()) == 0600); // nobody else looks into it before it is finished
        }
        writeTextFile(folder / "a", "new");
        CHECK(modeOf(folder / "a") == mode);
        CHECK(bytesOf(folder / "a") == "new");
    }
    const mode_t before = umask(027);
    writeTextFile(folder / "b", "new");
    umask(before);
    CHECK(modeOf(folder / "b") == 0640);
    if (geteuid() == 0) // only root may give files away
    {
        REQUIRE(chown((folder / "a").c_str(), 1234, 4321) == 0);
        writeTextFile(folder / "a", "newer");
        struct stat about
        {
        };
        REQUIRE(stat((folder / "a").c_str(), &about) == 0);
        CHECK(about.st_uid == 1234);
        CHECK(about.st_gid == 4321);
    }
}

TEST_CASE("what dead writers left is removed by the next one in that folder, a living one's is not")
{
    const TemporaryFolder folder;
    for (const char* left : {".tarry-0123456789abcdef.part", ".tarry-fedcba9876543210.part"})
        writeBytes(folder / left, "half a print of a program that was killed");
    for (const char* others : {".tarry-notes.part", ".tarry-0123456789abcdeg.part", "tarry-0123456789abcdef.part"})
        writeBytes(folder / others, "somebody's");
    const SafeFile living(folder / "a");
    {
        const SafeFile next(folder / "b");
        CHECK(fs::exists(living.temporary()));
        CHECK_FALSE(fs::exists(folder / ".tarry-0123456789abcdef.part"));
        CHECK_FALSE(fs::exists(folder / ".tarry-fedcba9876543210.part"));
    }
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 4); // three of somebody's, and the living one's
}

TEST_CASE("a link in the temporary file's place is not followed")
{
    const TemporaryFolder folder;
    writeBytes(folder / "victim", "untouched");
    fs::create_symlink(folder / "victim", folder / ".tarry-0123456789abcdef.part");
    writeTextFile(folder / "a", "whole");
    CHECK(bytesOf(folder / "victim") == "untouched");
}
