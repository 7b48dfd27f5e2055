#include "Files/SheetCsv.h"

#include "Core/Ground/Text.h"

#include <string_view>

namespace tarry
{
namespace
{
/// A table's line in the making.
class Line
{
public:
    void text(std::string_view value)
    {
        constexpr std::string_view formula = "=+-@\t\r";
        std::string safe(value);
        if (!value.empty() && formula.find(value.front()) != std::string_view::npos) safe.insert(safe.begin(), '\'');
        put(safe);
    }
    void texts(const std::vector<std::string>& sentences)
    {
        std::string all;
        for (const auto& sentence : sentences) all += (all.empty() ? "" : "\n") + sentence;
        text(all);
    }
    void number(double value, int decimals) { put(fixed(value, decimals)); }
    void number(const std::optional<double>& value, int decimals) { put(value ? fixed(*value, decimals) : ""); }
    void ms(const std::optional<double>& seconds) { put(seconds ? fixed(1e3 * *seconds, 6) : ""); }
    void whole(long long value) { put(std::to_string(value)); }
    void yesNo(bool value) { put(value ? "yes" : "no"); }
    void none() { put(""); }

    [[nodiscard]] std::string done() const { return cells + "\r\n"; }

private:
    void put(const std::string& value)
    {
        if (!first) cells += ',';
        first = false;
        if (value.find_first_of(",\"\r\n") == std::string::npos)
        {
            cells += value;
            return;
        }
        cells += '"';
        for (const char c : value) cells += c == '"' ? std::string("\"\"") : std::string(1, c);
        cells += '"';
    }

    std::string cells;
    bool first = true;
};

constexpr std::string_view heads =
    "schema,line,cue,take,setup,instrument,spot,room,room_channel,sample_rate,lag_ms,lag_samples,polarity,verdict,"
    "confidence,reasons,hits_found,hits_used,hits_agreeing,spread_ms,pool,from_pool,own_lag_ms,against_pool_ms,moved_"
    "ms,"
    "distance_m,taped_m,tape_difference_ms,tape_agrees,low_sum_normal_db,low_sum_inverted_db,attack_gain_db,drift_ppm,"
    "decision,lean_ms,delay_ms,decided_by,decided_on,wants_ear,failure,print,print_sha256,recall_line,note\r\n";

void planned(Line& line, const SessionRow& row)
{
    line.whole(SessionRecord::schema);
    line.whole(row.line);
    for (const auto& text : {row.cue, row.take, row.setup, row.instrument, row.spotFile, row.roomFile, row.roomChannel})
        line.text(text);
}

void found(Line& line, const SessionRow& row)
{
    const bool measured = row.lag.has_value();
    row.spotRate > 0 ? line.whole(row.spotRate) : line.none();
    line.ms(row.lag);
    measured ? line.number(row.lagSamples(), 4) : line.none();
    line.text(measured ? nameOf(row.polarity) : "");
    line.text(row.failed() && !measured ? "" : nameOf(row.verdict));
    measured ? line.number(row.confidence, 4) : line.none();
    line.texts(row.reasons);
    line.whole(row.own.hitsFound);
    line.whole(row.own.hitsUsed);
    line.whole(row.own.hitsAgreeing);
    line.ms(measured ? std::optional(row.own.spread) : std::nullopt);
    line.text(row.pool);
    line.yesNo(row.fromPool);
    line.ms(row.own.lag);
    line.ms(row.againstPool);
    line.ms(row.moved ? std::optional(row.moved->by) : std::nullopt);
    line.number(row.distance, 3);
    line.number(row.tape ? std::optional(row.tape->metres) : std::nullopt, 3);
    line.ms(row.tape ? std::optional(row.tape->difference) : std::nullopt);
    row.tape ? line.yesNo(row.tape->agrees) : line.none();
    const auto decibels = [&](double value) { measured ? line.number(value, 2) : line.none(); };
    decibels(row.lowSumNormal);
    decibels(row.lowSumInverted);
    decibels(row.own.attackGainDb);
    line.number(row.own.driftPpm, 4);
}

void decided(Line& line, const SessionRow& row)
{
    line.text(row.failed() ? "" : nameOf(row.decision));
    line.ms(row.lean);
    line.ms(row.decision == Decision::align && row.lag && !row.failed() ? row.applied().lag : 0.0);
    line.text(row.decidedBy);
    line.text(row.decidedOn);
    line.texts(row.wantsEar);
    line.text(row.failure);
    line.text(row.print ? row.print->file : "");
    line.text(row.print ? row.print->sha256 : "");
    line.text(row.recallLine);
    line.text(row.note);
}
} // namespace

std::string toCsv(const SessionRecord& record)
{
    std::string csv = "\xEF\xBB\xBF" + std::string(heads);
    for (const auto& row : record.rows)
    {
        Line line;
        planned(line, row);
        found(line, row);
        decided(line, row);
        csv += line.done();
    }
    return csv;
}
} // namespace tarry
