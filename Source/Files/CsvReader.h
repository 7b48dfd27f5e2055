#pragma once
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace tarry
{
/// One record of a CSV file: its cells and the line of the file on which it begins, from 1.
struct CsvRecord
{
    int line = 0;
    std::vector<std::string> cells;
};

/// A table as spreadsheets write it, and what is wrong with it, line by line.
struct CsvTable
{
    char separator = ','; ///< as found in the first line: comma, semicolon or tab
    std::vector<CsvRecord> records;

    struct Fault
    {
        int line = 0;
        std::string what;
    };
    std::vector<Fault> faults;
};

/// Reads RFC 4180: quoted cells hold separators, line breaks and doubled quotes. Also what spreadsheets write instead:
/// a byte-order mark, semicolons or tabs, line ends of any kind. Lines with no text at all are passed over.
[[nodiscard]] CsvTable readCsv(std::string_view text);

/// True where these bytes are UTF-8 (RFC 3629).
[[nodiscard]] bool isUtf8(std::string_view text);
} // namespace tarry
