#include "Files/CsvReader.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Python.h"

#include <random>

using namespace tarry;
using namespace tarry::test;

namespace
{
using Rows = std::vector<std::vector<std::string>>;

Rows rowsOf(const CsvTable& table)
{
    Rows rows;
    for (const auto& record : table.records) rows.push_back(record.cells);
    return rows;
}
} // namespace

TEST_CASE("CSV: the cases of RFC 4180, section 2")
{
    CHECK(rowsOf(readCsv("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")) == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rowsOf(readCsv("aaa,bbb\r\nzzz,yyy")) == Rows{{"aaa", "bbb"}, {"zzz", "yyy"}}); // no break at the end
    CHECK(rowsOf(readCsv("\"aaa\",\"bbb\"\r\nzzz,yyy\r\n")) == Rows{{"aaa", "bbb"}, {"zzz", "yyy"}});
    CHECK(rowsOf(readCsv("\"aaa\",\"b\r\nbb\",ccc\r\nzzz,yyy,xxx")) ==
          Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rowsOf(readCsv("\"aaa\",\"b\"\"bb\",ccc")) == Rows{{"aaa", "b\"bb", "ccc"}});
    CHECK(rowsOf(readCsv("a,,c\r\n,,d")) == Rows{{"a", "", "c"}, {"", "", "d"}});
}

TEST_CASE("CSV as spreadsheets write it: marks, semicolons, tabs, empty lines; lines counted as an editor counts them")
{
    const auto table = readCsv("\xEF\xBB\xBF"
                               "cue;note\r\n\r\n7;\"two\nlines; here\"\r\n;\r\n8;x\n");
    CHECK(table.separator == ';');
    CHECK(rowsOf(table) == Rows{{"cue", "note"}, {"7", "two\nlines; here"}, {"8", "x"}});
    REQUIRE(table.records.size() == 3);
    CHECK(table.records[1].line == 3);
    CHECK(table.records[2].line == 6);
    CHECK(readCsv("a\tb\n1\t2,3").separator == '\t');
    CHECK(readCsv("\"a;b;c\",d\n").separator == ','); // those within quotes do not count
    CHECK(readCsv("").records.empty());
}

TEST_CASE("CSV: what is wrong is said with its line, and the rest is still read")
{
    const auto table = readCsv("a,b\n\"x\"y,2\n3,\"never closed\n4,5");
    REQUIRE(table.faults.size() == 2);
    CHECK(table.faults[0].line == 2);
    CHECK(contains(table.faults[0].what, "closing quote"));
    CHECK(table.faults[1].line == 3);
    CHECK(contains(table.faults[1].what, "never closed"));
    CHECK(table.records.size() == 3);
}

TEST_CASE("CSV by Python's csv module reads as it was written", "[outside]")
{
    TARRY_NEED_PYTHON(python, "csv");
    const TemporaryFolder folder;
    // Cells of every awkward kind, in the dialects that its writer has; ours has to give them back.
    const auto result = runPython(python, R"(
import csv, random, sys, json
random.seed(11)
bits = ['', 'a', '"', ',', ';', '\t', '\r\n', '\n', 'ü', ' ', "'", 'x y']
for n, delimiter in enumerate([',', ';', '\t']):
    rows = [['first', 'second', 'third']]
    for _ in range(200):
        rows.append(['k' + ''.join(random.choice(bits) for _ in range(4)) for _ in range(3)])
    name = sys.argv[1] + '/' + str(n)
    with open(name + '.csv', 'w', newline='', encoding='utf-8-sig' if n else 'utf-8') as file:
        csv.writer(file, delimiter=delimiter).writerows(rows)
    with open(name + '.txt', 'w', newline='', encoding='utf-8') as file:
        for row in rows:
            for cell in row: file.write(cell + '\x1f')
)",
                                  {folder.path().string()});
    INFO(result.errors);
    REQUIRE(result.status == 0);
    for (int n = 0; n < 3; ++n)
    {
        const auto table = readCsv(bytesOf(folder / (std::to_string(n) + ".csv")));
        CHECK(table.faults.empty());
        std::string cells;
        for (const auto& row : rowsOf(table))
            for (const auto& cell : row) cells += cell + '\x1f';
        CHECK(cells == bytesOf(folder / (std::to_string(n) + ".txt")));
    }
}

TEST_CASE("UTF-8 is told from what is not, by the table of RFC 3629, section 4")
{
    for (const char* good :
         {"", "plain", "\xC3\xBC", "\xE2\x82\xAC", "\xF0\x9D\x84\x9E", "\xEE\x80\x80", "\xF4\x8F\xBF\xBF"})
        CHECK(isUtf8(good));
    for (const char* bad :
         {"\xFC", "\xC3", "\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xF8\x88\x80\x80", "a\x80"})
    {
        INFO(bad);
        CHECK_FALSE(isUtf8(bad));
    }
}
