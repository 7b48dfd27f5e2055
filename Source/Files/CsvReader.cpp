#include "Files/CsvReader.h"

#include <algorithm>

namespace tarry
{
namespace
{
/// The one of comma, semicolon and tab that stands most often in the first line, outside quotes.
char separatorIn(std::string_view text)
{
    char best = ',';
    std::ptrdiff_t most = 0;
    std::string bare;
    bool quoted = false;
    for (const char c : text)
    {
        if (c == '"') quoted = !quoted;
        if (!quoted && (c == '\n' || c == '\r') && !bare.empty()) break;
        if (!quoted) bare += c;
    }
    for (const char candidate : {',', ';', '\t'})
        if (const auto count = std::count(bare.begin(), bare.end(), candidate); count > most)
        {
            most = count;
            best = candidate;
        }
    return best;
}

class Scanner
{
public:
    Scanner(std::string_view text, char separator) : rest(text) { table.separator = separator; }

    CsvTable scan()
    {
        while (at < rest.size()) readRecord();
        return std::move(table);
    }

private:
    void readRecord()
    {
        CsvRecord record{line, {}};
        bool more = true;
        while (more)
        {
            record.cells.push_back(at < rest.size() && rest[at] == '"' ? quotedCell() : plainCell());
            more = at < rest.size() && rest[at] == table.separator;
            if (more) ++at;
        }
        endOfLine();
        const auto isEmpty = [](const std::string& cell) { return cell.find_first_not_of(" \t") == std::string::npos; };
        if (!std::all_of(record.cells.begin(), record.cells.end(), isEmpty)) table.records.push_back(std::move(record));
    }

    std::string plainCell()
    {
        const auto from = at;
        while (at < rest.size() && !atBreak() && rest[at] != table.separator) ++at;
        return std::string(rest.substr(from, at - from));
    }

    std::string quotedCell()
    {
        const int opened = line;
        std::string cell;
        for (++at; at < rest.size(); ++at)
        {
            if (rest[at] != '"')
            {
                if (rest[at] == '\n') ++line;
                cell += rest[at];
                continue;
            }
            if (at + 1 < rest.size() && rest[at + 1] == '"')
                cell += rest[at++];
            else
            {
                ++at;
                if (const auto after = plainCell(); after.find_first_not_of(" \t") != std::string::npos)
                    table.faults.push_back({line, "text follows a closing quote: write a quote within a cell twice"});
                return cell;
            }
        }
        table.faults.push_back({opened, "a cell opens with a quote that is never closed"});
        return cell;
    }

    [[nodiscard]] bool atBreak() const { return rest[at] == '\n' || rest[at] == '\r'; }

    void endOfLine()
    {
        if (at >= rest.size()) return;
        if (rest[at] == '\r' && at + 1 < rest.size() && rest[at + 1] == '\n') ++at;
        ++at;
        ++line;
    }

    std::string_view rest;
    std::size_t at = 0;
    int line = 1;
    CsvTable table;
};
} // namespace

CsvTable readCsv(std::string_view text)
{
    constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrderMark)) text.remove_prefix(byteOrderMark.size());
    return Scanner(text, separatorIn(text)).scan();
}

bool isUtf8(std::string_view text)
{
    for (std::size_t i = 0; i < text.size();)
    {
        const auto byte = static_cast<unsigned char>(text[i]);
        const int more = byte < 0x80                   ? 0
                         : byte >= 0xC2 && byte < 0xE0 ? 1
                         : byte >= 0xE0 && byte < 0xF0 ? 2
                         : byte >= 0xF0 && byte < 0xF5 ? 3
                                                       : -1;
        if (more < 0 || i + static_cast<std::size_t>(more) >= text.size()) return false;
        for (int k = 1; k <= more; ++k)
        {
            const auto next = static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]);
            // The first byte after some leaders is narrower: no overlong forms, no surrogates, nothing above U+10FFFF.
            const unsigned low = k > 1 ? 0x80U : byte == 0xE0 ? 0xA0U : byte == 0xF0 ? 0x90U : 0x80U;
            const unsigned high = k > 1 ? 0xBFU : byte == 0xED ? 0x9FU : byte == 0xF4 ? 0x8FU : 0xBFU;
            if (next < low || next > high) return false;
        }
        i += static_cast<std::size_t>(more) + 1;
    }
    return true;
}
} // namespace tarry
