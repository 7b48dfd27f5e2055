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
