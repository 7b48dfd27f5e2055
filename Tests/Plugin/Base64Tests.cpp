#include "Plugin/Base64.h"

#include "Support/Catch.h"

#include <random>

using namespace tarry;

namespace
{
std::string encoded(std::string_view text)
{
    return toBase64({text.begin(), text.end()});
}
} // namespace

TEST_CASE("base 64: the vectors of RFC 4648, section 10")
{
    CHECK(encoded("").empty());
    CHECK(encoded("f") == "Zg==");
    CHECK(encoded("fo") == "Zm8=");
    CHECK(encoded("foo") == "Zm9v");
    CHECK(encoded("foob") == "Zm9vYg==");
    CHECK(encoded("fooba") == "Zm9vYmE=");
    CHECK(encoded("foobar") == "Zm9vYmFy");
}

TEST_CASE("base 64: any bytes come back; what is no such text is refused")
{
    std::mt19937 random(64);
    for (std::size_t length = 0; length < 200; ++length)
    {
        std::vector<std::uint8_t> bytes(length);
        for (auto& byte : bytes) byte = static_cast<std::uint8_t>(random() & 255U);
        REQUIRE(fromBase64(toBase64(bytes)) == bytes);
    }
    for (const auto* odd : {"Zg", "Zg=", "Z g=", "====", "Zg==Zg==", "Zm9v!A=="})
    {
        INFO(odd);
        const auto read = fromBase64(odd);
        CHECK((!read || toBase64(*read) == odd));
    }
}
