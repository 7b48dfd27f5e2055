#include "Files/SheetCsv.h"

#include "Files/Fixtures.h"
#include "Files/MadeUpSession.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <fstream>

using namespace tarry;
using namespace tarry::test;

TEST_CASE("sheet.csv: Python's csv reads every row, every figure and every hostile name back", "[outside]")
{
    TARRY_NEED_PYTHON(python, "csv");
    const TemporaryFolder folder;
    const auto record = madeUpSession();
    std::ofstream(folder / "sheet.csv", std::ios::binary) << toCsv(record);
    const auto read = runPython(python, R"(
import csv, sys
data = open(sys.argv[1], 'rb').read()
assert data.startswith(b'\xef\xbb\xbf') and data.endswith(b'\r\n')
rows = list(csv.DictReader(open(sys.argv[1], encoding='utf-8-sig', newline='', errors='surrogateescape')))
assert len(rows) == 48, len(rows)
assert all(None not in row and None not in row.values() for row in rows), 'a row of another width'
assert all(row['schema'] == '1' for row in rows)
print(rows[0]['lag_ms'], rows[0]['lag_samples'], rows[0]['polarity'], rows[2]['lean_ms'], rows[2]['delay_ms'])
print(rows[3]['decision'], rows[3]['delay_ms'], rows[5]['moved_ms'], rows[5]['wants_ear'].count('\n'))
print(rows[9]['failure'] != '', rows[9]['lag_ms'] == '', rows[9]['decision'] == '')
print(rows[10]['cue'])
print(rows[10]['instrument'][:5])
)",
                                {(folder / "sheet.csv").string()});
    INFO(read.errors);
    REQUIRE(read.status == 0);
    std::string expected = "31.084123 1492.0379 normal 8.000000 34.950817\n"
                           "leave 0.000000 2.100000 1\n"
                           "True True True\n";
    expected.append(hostileName).append("\n'=1+1\n");
    CHECK(read.output == expected);
}

TEST_CASE("sheet.csv: LibreOffice opens it, every cell where it belongs and no name run as a formula", "[outside]")
{
    TARRY_NEED_PROGRAM(office, "soffice"); // Debian's libreoffice-calc-nogui: too large to be asked of everyone
    TARRY_NEED_PYTHON(python, "csv");
    const TemporaryFolder folder;
    std::ofstream(folder / "sheet.csv", std::ios::binary) << toCsv(madeUpSession());
    std::filesystem::create_directory(folder / "office");
    // Through a spreadsheet and back: comma, quotes, UTF-8 both ways; out with numbers as they are, not as shown.
    const auto converted = runProgram({office, "-env:UserInstallation=file://" + (folder / "profile").string(),
                                       "--headless", "--infilter=CSV:44,34,UTF8", "--convert-to", "ods", "--outdir",
                                       (folder / "office").string(), (folder / "sheet.csv").string()});
    INFO(converted.output << converted.errors);
    REQUIRE(converted.status == 0);
    const auto back = runProgram({office, "-env:UserInstallation=file://" + (folder / "profile").string(), "--headless",
                                  "--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false",
                                  "--outdir", (folder / "office").string(), (folder / "office/sheet.ods").string()});
    INFO(back.output << back.errors);
    REQUIRE(back.status == 0);
    const auto read = runPython(python, R"(
import csv, sys
def rows(name):
    return list(csv.reader(open(name, encoding='utf-8-sig', newline='', errors='replace')))
ours, theirs = rows(sys.argv[1]), rows(sys.argv[2])
assert len(ours) == len(theirs) == 49, (len(ours), len(theirs))
def same(one, other):
    # It keeps no control characters, and 15 digits of a number: a checksum that happens to have no letter is one.
    one, other = (''.join(c for c in text.replace('\r\n', '\n') if c >= ' ' or c == '\n') for text in (one, other))
    if one == other: return True
    try: return abs(float(one) - float(other)) <= 1e-13 * abs(float(one))
    except ValueError: return one.lower() == other.lower() and one in ('true', 'false')
wrong = [(i, ours[0][k], a, b) for i, (x, y) in enumerate(zip(ours, theirs)) for k, (a, b) in enumerate(zip(x, y)) if not same(a, b)]
assert all(len(x) == len(y) for x, y in zip(ours, theirs)), 'a row of another width'
for each in wrong[:8]: print(each)
)",
                                {(folder / "sheet.csv").string(), (folder / "office/sheet.csv").string()});
    INFO(read.errors);
    CHECK(read.status == 0);
    CHECK(read.output == "");
}

TEST_CASE("sheet.csv: quotes, commas and line breaks are kept; a formula is made harmless")
{
    SessionRecord record;
    SessionRow row;
    row.cue = "say \"when\", twice\nor not";
    row.take = "+1";
    row.setup = "-A";
    row.instrument = "@SUM(A1)";
    row.note = "plain";
    record.rows = {row};
    const auto csv = toCsv(record);
    CHECK(contains(csv, "\"say \"\"when\"\", twice\nor not\",'+1,'-A,'@SUM(A1),"));
    CHECK(contains(csv, ",plain\r\n"));
    const auto heads = csv.substr(0, csv.find("\r\n"));
    CHECK(occurrences(heads, ",") == 43);
}
