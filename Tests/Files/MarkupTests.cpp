#include "Files/Markup.h"

#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("escaped: nothing that HTML or XML reads as its own gets through")
{
    CHECK(escaped("<script>&\"'") == "&lt;script&gt;&amp;&quot;&#39;");
    CHECK(escaped("line\nfeed\ttab\x01") == "line feed tab ");
    CHECK(escaped("Tr\xC3\xA9pied \xF0\x9F\xA5\x81 \xE2\x88\x92") == "Tr\xC3\xA9pied \xF0\x9F\xA5\x81 \xE2\x88\x92");
    CHECK(escaped("\xFF") == "\xEF\xBF\xBD");
    CHECK(escaped("\xC3") == "\xEF\xBF\xBD"); // cut short
    CHECK(escaped("\xC0\xBC"
                  "script") == "\xEF\xBF\xBD\xEF\xBF\xBDscript");         // an overlong '<'
    CHECK(escaped("\xED\xA0\x80").find("\xED") == std::string::npos);     // half of a surrogate pair
    CHECK(escaped("\xF4\x90\x80\x80").find("\xF4") == std::string::npos); // beyond Unicode
}

TEST_CASE("scriptSafe: no tag can end the block, and JSON reads the same")
{
    CHECK(scriptSafe(R"({"a": "</script><!--"})") == R"({"a": "\u003c/script>\u003c!--"})");
}
