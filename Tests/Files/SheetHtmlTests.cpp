#include "Files/SheetHtml.h"

#include "Files/AttackStrips.h"
#include "Files/Fixtures.h"
#include "Files/MadeUpSession.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <fstream>

using namespace tarry;
using namespace tarry::test;

namespace
{
// What Python's own parser makes of a page: every tag closed in its order, every id once, every link inside the page
// leading somewhere, nothing loaded from anywhere, one script, and the hostile name only ever as text.
constexpr const char* readPage = R"(
import re, sys
from html.parser import HTMLParser
void = {'area','base','br','col','embed','hr','img','input','link','meta','source','track','wbr'}
class Page(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.ids, self.links, self.scripts, self.text, self.counts = [], [], [], 0, [], {}
    def handle_starttag(self, tag, attributes):
        self.counts[tag] = self.counts.get(tag, 0) + 1
        names = [name for name, _ in attributes]
        assert len(names) == len(set(names)), (tag, names)
        for name, value in attributes:
            assert not name.startswith('on'), (tag, name)
            if name == 'id': self.ids.append(value)
            if name in ('href', 'src'): self.links.append(value)
        if tag not in void: self.open.append(tag)
    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in void: self.open.pop()
    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, (self.getpos(), tag, self.open[-5:])
        self.open.pop()
    def handle_data(self, data):
        self.text.append(data)
page = Page()
source = open(sys.argv[1], encoding='utf-8').read()
page.feed(source)
page.close()
assert not page.open, page.open
assert len(page.ids) == len(set(page.ids)), 'an id stands twice'
for link in page.links:
    assert link.startswith('#') and link[1:] in page.ids or link.startswith('clips/'), link
assert page.counts['script'] == 1, page.counts
assert 'url(' not in source and '@import' not in source and 'http:' not in source and 'https:' not in source
text = ''.join(page.text)
assert sys.argv[2] in text, 'the hostile name is not shown as it is'
assert 'ends a script </script> and a comment --> ]]>' in text
assert '100 %' not in text
print(len(source), page.counts['tbody'], page.counts['svg'])
)";
} // namespace

TEST_CASE("sheet page: well formed, self-contained, and nothing in a name becomes markup", "[outside]")
{
    TARRY_NEED_PYTHON(python, "html.parser");
    const TemporaryFolder folder;
    std::ofstream(folder / "sheet.html", std::ios::binary) << toHtml(madeUpSession());
    const auto read = runPython(python, readPage, {(folder / "sheet.html").string(), hostileName});
    INFO(read.errors);
    CHECK(read.status == 0);
}

TEST_CASE("sheet page: as tidy wants it", "[outside]")
{
    TARRY_NEED_PROGRAM(tidy, "tidy");
    const TemporaryFolder folder;
    std::ofstream(folder / "sheet.html", std::ios::binary) << toHtml(madeUpSession());
    const auto read = runProgram({tidy, "-q", "-e", (folder / "sheet.html").string()});
    INFO(read.errors);
    CHECK(read.status == 0);
    CHECK(read.errors.empty());
}

TEST_CASE("sheet page: 500 rows stay below 5 MB")
{
    const std::string page = toHtml(madeUpSession(500));
    INFO(page.size() << " bytes, limit 5 000 000");
    CHECK(page.size() < 5'000'000);
    CHECK(occurrences(page, "<tbody id=\"line-") == 500);
}

TEST_CASE("sheet page: the same record gives the same page")
{
    CHECK(toHtml(madeUpSession()) == toHtml(madeUpSession()));
}

TEST_CASE("sheet page: what wants an ear and what failed stands before everything else")
{
    const std::string page = toHtml(madeUpSession(12));
    const auto ear = page.find(">Wants an ear</h2>"), failed = page.find(">Failed</h2>"),
               all = page.find(">Every spot</h2>");
    REQUIRE(ear != std::string::npos);
    REQUIRE(failed != std::string::npos);
    REQUIRE(all != std::string::npos);
    CHECK(ear < failed);
    CHECK(failed < all);
    CHECK(page.find("Since 61.5 s the room is 2.10 ms later") < failed);
    CHECK(page.find("is cut short, its header promises more") < all);
    CHECK(contains(toHtml(SessionRecord{}), "Nothing: no lag, setup or machine asks for a second look."));
}

TEST_CASE("sheet page: a row shows what another rig needs")
{
    auto record = madeUpSession(4);
    record.rows.erase(record.rows.begin(), record.rows.begin() + 2); // the bass drum, which leans, and the one to leave
    const std::string page = toHtml(record);
    for (const char* shown :
         {">26.951</td>", ">1293.64</td>", "align, lean +8.00 ms", "34.951 ms", "48 kHz", "over 99 %",
          "+2.6 dB normal, \xE2\x88\x92"
          "5.0 dB inverted",
          "Tarry recall 1: version=0.1.0 lag=26.950817ms", "SHA-256 2222222222222222",
          "tarry session, 2026-03-02T04:12:00Z", "leave as recorded", "The hits gather at two lags, 4.2 ms apart",
          "Caution.", "up to 6 dB"})
    {
        INFO(shown);
        CHECK(contains(page, shown));
    }
    CHECK(occurrences(page, "clips/line-") == 4);
}

TEST_CASE("attack drawing: the aligned spot stands under the room's attack, by the columns")
{
    AttackPicture attack;
    attack.start = 0.0;
    attack.step = 0.001;
    const auto with = [](int column, double level)
    {
        Envelope envelope{std::vector<double>(62, 0.0), std::vector<double>(62, 0.0)};
        envelope.high[static_cast<std::size_t>(column)] = level;
        return envelope;
    };
    attack.room = with(31, 0.01);
    attack.spotAsRecorded = with(0, 0.5);
    attack.spotAligned = with(31, 0.5);
    const std::string drawing = attackStrips(attack, 0.031, "words");
    // 124 columns of 2 px from px 66: column 31 of 62 is the 62nd, 124 px on; the loudest sample is 19 px high.
    CHECK(contains(drawing, "class=\"room\" d=\"M66 70h122l2-19"));
    CHECK(contains(drawing, "class=\"spot\" d=\"M66 26l0-19h2l2 19"));
    CHECK(contains(drawing, "class=\"spot\" d=\"M66 114h122l2-19"));
    CHECK(contains(drawing, "class=\"at\" d=\"M190.0 48V136\"")); // 66 + 31 / 62 * 248 px
    CHECK(attackStrips(AttackPicture{}, 0.0, "").empty());
}
