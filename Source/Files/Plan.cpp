#include "Files/Plan.h"

#include "Core/Controls/SettingTable.h"
#include "Core/Ground/Text.h"
#include "Files/CsvReader.h"
#include "Files/Errors.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

namespace tarry
{
namespace
{
namespace fs = std::filesystem;

std::string lower(std::string text)
{
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c); });
    return text;
}

/// The cells of one record by the names of the columns.
class Cells
{
public:
    Cells(const std::vector<std::string>& headers, const CsvRecord& from)
    {
        for (std::size_t i = 0; i < from.cells.size() && i < headers.size(); ++i)
            cells[headers[i]] = std::string(trimmed(from.cells[i]));
    }

    [[nodiscard]] std::string operator[](const std::string& column) const
    {
        const auto found = cells.find(column);
        return found == cells.end() ? std::string() : found->second;
    }

private:
    std::map<std::string, std::string> cells;
};

constexpr std::array required{"cue", "take", "setup", "spot", "room"};
constexpr std::array optional{"room_channel", "instrument", "taped_m", "temperature_c", "decision",
                              "lean_ms",      "clap",       "by",      "note"};

bool isColumn(const std::string& name)
{
    return std::find(required.begin(), required.end(), name) != required.end() ||
           std::find(optional.begin(), optional.end(), name) != optional.end();
}

class PlanReader
{
public:
    explicit PlanReader(const fs::path& file) { plan.file = file; }

    PlanReading read()
    {
        const bool isFolder = fs::is_directory(plan.file); // whose reading would throw
        std::ifstream stream(plan.file, std::ios::binary);
        std::string text;
        if (stream && !isFolder) text.assign(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>());
        if (!stream || isFolder)
            throw InputError(plan.file, "cannot be read: name a plan, or make a first one by tarry session --draft "
                                        "FOLDER");
        noteTime();
        if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF") || !isUtf8(text))
            fault(0, "is not in UTF-8: save it as 'CSV UTF-8'");
        else
            readTable(readCsv(text));
        std::stable_sort(faults.begin(), faults.end(), [](const auto& a, const auto& b) { return a.line < b.line; });
        return {std::move(plan), std::move(faults)};
    }

private:
    void fault(int line, const std::string& what) { faults.push_back({line, what}); }

    void noteTime()
    {
        using namespace std::chrono;
        const auto time = floor<seconds>(file_clock::to_sys(fs::last_write_time(plan.file)));
        const auto day = floor<days>(time);
        const year_month_day date(day);
        const hh_mm_ss clock(time - day);
        std::array<char, 40> text{};
        std::snprintf(text.data(), text.size(), "%04d-%02u-%02uT%02d:%02d:%02dZ", static_cast<int>(date.year()),
                      static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                      static_cast<int>(clock.hours().count()), static_cast<int>(clock.minutes().count()),
                      static_cast<int>(clock.seconds().count()));
        plan.changed = text.data();
    }

    void readTable(const CsvTable& table)
    {
        for (const auto& each : table.faults) fault(each.line, each.what);
        if (table.records.empty())
            return fault(0, std::string("is empty: its first line names the columns ") + planColumns);
        decimalComma = table.separator == ';';
        if (!readHeaders(table.records.front())) return;
        for (std::size_t i = 1; i < table.records.size(); ++i) readRow(table.records[i]);
        if (table.records.size() == 1) fault(table.records.front().line, "no take follows the names of the columns");
        checkTogether();
    }

    bool readHeaders(const CsvRecord& record)
    {
        for (const auto& cell : record.cells)
        {
            const auto name = lower(std::string(trimmed(cell)));
            if (!name.empty() && !isColumn(name))
                fault(record.line,
                      "no column is called " + tarry::quoted(trimmed(cell)) + "; there are " + planColumns);
            if (!name.empty() && std::find(headers.begin(), headers.end(), name) != headers.end())
                fault(record.line, "the column '" + name + "' stands there twice");
            headers.push_back(name);
        }
        std::string missing;
        for (const char* name : required)
            if (std::find(headers.begin(), headers.end(), name) == headers.end())
                missing += (missing.empty() ? "" : ", ") + std::string(name);
        if (!missing.empty()) fault(record.line, "columns are missing: " + missing);
        return missing.empty();
    }

    void readRow(const CsvRecord& record)
    {
        for (std::size_t i = 0; i < record.cells.size(); ++i)
            if (!trimmed(record.cells[i]).empty() && (i >= headers.size() || headers[i].empty()))
                fault(record.line, tarry::quoted(trimmed(record.cells[i])) + " stands under no column");
        const Cells cells(headers, record);
        PlanRow row;
        row.line = record.line;
        row.cue = filled(cells, "cue", row.line);
        row.take = filled(cells, "take", row.line);
        row.setup = filled(cells, "setup", row.line);
        row.spotText = filled(cells, "spot", row.line);
        row.roomText = filled(cells, "room", row.line);
        for (auto* text : {&row.spotText, &row.roomText})
            std::replace(text->begin(), text->end(), '\\', '/'); // as written under Windows
        row.spot = existing("spot", row.spotText, row.line);
        row.room = existing("room", row.roomText, row.line);
        row.instrument = cells["instrument"];
        row.note = cells["note"];
        row.by = cells["by"];
        row.roomChannel = roomChannel(cells["room_channel"], row.line);
        row.taped = number(cells["taped_m"], "taped_m", 0.3, 100.0, row.line);
        const auto& air = setting(&Setup::temperature);
        row.temperature = number(cells["temperature_c"], "temperature_c", air.least, air.most, row.line);
        const auto& lean = setting(&Controls::lean);
        row.lean = number(cells["lean_ms"], "lean_ms", lean.least, lean.most, row.line).value_or(0.0) / 1e3;
        row.decision = decision(cells["decision"], row.line);
        row.clap = yes(cells["clap"], row.line);
        std::error_code problem;
        if (fs::equivalent(row.spot, row.room, problem) && !problem) fault(row.line, "spot and room are the same file");
        plan.rows.push_back(row);
    }

    std::string filled(const Cells& cells, const char* column, int line)
    {
        const auto text = cells[column];
        if (text.empty()) fault(line, std::string("'") + column + "' is empty");
        return text;
    }

    fs::path existing(const char* what, const std::string& text, int line)
    {
        if (text.empty()) return {};
        const fs::path place = plan.file.parent_path() / fs::path(text);
        std::error_code problem;
        if (!fs::exists(place, problem))
            fault(line, std::string("there is no ") + what + " " + text);
        else if (fs::is_directory(place, problem))
            fault(line, std::string("the ") + what + " " + text + " is a folder");
        return place;
    }

    std::optional<double> number(std::string text, const char* column, double least, double most, int line)
    {
        if (text.empty()) return std::nullopt;
        const auto written = text;
        if (decimalComma) std::replace(text.begin(), text.end(), ',', '.');
        const auto value = readNumber(text);
        if (value && *value >= least && *value <= most) return value;
        fault(line, std::string("'") + column + "' is " + tarry::quoted(written) + ", not a number from " +
                        fixed(least, 1) + " to " + fixed(most, 0));
        return std::nullopt;
    }

    std::string roomChannel(const std::string& text, int line)
    {
        const auto word = lower(text);
        if (word.empty()) return "first";
        for (const char* known : {"first", "left", "right", "centre"})
            if (word == known) return word;
        if (word.size() == 1 && word.front() >= '1' && word.front() <= '8') return word;
        fault(line,
              "'room_channel' is " + tarry::quoted(text) + ", not first, left, right, centre, or a number from 1 to 8");
        return "first";
    }

    std::optional<Decision> decision(const std::string& text, int line)
    {
        const auto word = lower(text);
        if (word.empty()) return std::nullopt;
        if (word == nameOf(Decision::align)) return Decision::align;
        if (word == nameOf(Decision::leave)) return Decision::leave;
        fault(line, "'decision' is " + tarry::quoted(text) + ", not align or leave (empty: by the verdict)");
        return std::nullopt;
    }

    bool yes(const std::string& text, int line)
    {
        const auto word = lower(text);
        for (const char* known : {"yes", "y", "x", "1", "true"})
            if (word == known) return true;
        for (const char* known : {"", "no", "n", "0", "false"})
            if (word == known) return false;
        fault(line, "'clap' is " + tarry::quoted(text) + ", not yes or no");
        return false;
    }

    /// What only shows between lines; and a place for each print that no two share, however a file system treats case.
    void checkTogether()
    {
        std::map<std::string, int> seen;
        std::set<std::string> places;
        for (auto& row : plan.rows)
        {
            if (row.cue.empty() || row.take.empty() || row.setup.empty()) continue;
            const auto key = row.cue + '\n' + row.take + '\n' + row.pool();
            if (const auto [first, fresh] = seen.emplace(key, row.line); !fresh)
                fault(row.line, "cue " + row.cue + ", take " + row.take + ", has a spot of setup " + row.pool() +
                                    " in line " + std::to_string(first->second) +
                                    " already: say which 'instrument' each spot stands at");
            const auto folder = "prints/" + folderName(row.cue) + "/" + folderName(row.take) + "/";
            const auto name = row.spot.filename().string();
            row.print = folder + name;
            if (!places.insert(lower(row.print)).second)
                row.print = folder + "line " + std::to_string(row.line) + " " + name;
            places.insert(lower(row.print));
        }
    }

    /// A cue's or take's name as a folder: without what file systems cannot hold, never '.' or '..'.
    static std::string folderName(std::string name)
    {
        for (char& c : name)
            if (static_cast<unsigned char>(c) < 0x20 || std::string_view("/\\:*?\"<>|").find(c) != std::string::npos)
                c = '-';
        while (!name.empty() && (name.back() == '.' || name.back() == ' ')) name.back() = '-';
        if (name.front() == '.') name.front() = '-';
        return name;
    }

    Plan plan;
    std::vector<PlanFault> faults;
    std::vector<std::string> headers;
    bool decimalComma = false;
};
} // namespace

PlanReading readPlan(const fs::path& file)
{
    return PlanReader(file).read();
}
} // namespace tarry
