#include "Files/Checksum.h"

#include "Files/Errors.h"
#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("SHA-256 of the examples in FIPS 180-2, appendix B")
{
    CHECK(sha256Of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256Of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256Of("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("SHA-256 of a file is what sha256sum says", "[outside]")
{
    TARRY_NEED_PROGRAM(sha256sum, "sha256sum");
    const TemporaryFolder folder;
    for (const std::size_t size : {0U, 1U, 262144U, 262145U, 1000000U})
    {
        writeBytes(folder / "file", std::string(size, 'x'));
        const auto theirs = runProgram({sha256sum.string(), (folder / "file").string()});
        CHECK(theirs.output.substr(0, 64) == sha256OfFile(folder / "file"));
    }
    CHECK_THROWS_AS(sha256OfFile(folder / "none"), InputError);
}
