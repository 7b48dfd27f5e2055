#include "Files/SafeFile.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"

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
