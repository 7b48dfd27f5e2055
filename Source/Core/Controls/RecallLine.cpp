#include "Core/Controls/RecallLine.h"

#include "Core/Controls/SettingTable.h"
#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace tarry
{
namespace
{
constexpr std::string_view opening = "Tarry recall ", ending = "end";
constexpr std::size_t longest = 4000; // characters: a clipboard can hold anything

const char* yesNo(bool value)
{
    return value ? "yes" : "no";
}

/// ms to the nanosecond.
std::string exactMs(double seconds)
{
    return fixed(std::round(seconds * 1.0e9) / 1.0e6, 6) + "ms";
}

/// The same with no more digits than it has, two at least.
std::string shortMs(double seconds)
{
    auto text = fixed(std::round(seconds * 1.0e9) / 1.0e6, 6);
    while (text.back() == '0' && text[text.size() - 3] != '.') text.pop_back();
    return text + "ms";
}

bool isPlain(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           std::string_view(":/.,=+-<").find(c) != std::string_view::npos;
}

/// What can stand in the line: no white space, nothing that cannot be printed.
std::string plain(std::string text)
{
    std::erase_if(text, [](char c) { return !isPlain(c); });
    return text;
}

/// A name as one word: blanks as '_', what could be mistaken or not printed as %XX of its UTF-8 bytes.
std::string asWord(std::string_view name)
{
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string word;
    for (const char c : name.substr(0, 100))
    {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        const auto byte = static_cast<unsigned char>(c);
        if (letter || c == '-' || c == '.')
            word += c;
        else if (c == ' ')
            word += '_';
        else
            word.append({'%', digits[byte >> 4U], digits[byte & 15U]});
    }
    return word;
}

std::string fromWord(std::string_view word)
{
    std::string name;
    for (std::size_t i = 0; i < word.size(); ++i)
    {
        int byte = 0;
        if (word[i] == '%' && i + 2 < word.size() &&
            std::from_chars(word.data() + i + 1, word.data() + i + 3, byte, 16).ptr == word.data() + i + 3)
        {
            name += static_cast<char>(byte);
            i += 2;
        }
        else
            name += word[i] == '_' ? ' ' : word[i];
    }
    return name;
}

/// The names that a line may carry, by key. Later than the first release: a line may lack them.
constexpr std::array<std::pair<const char*, std::string Names::*>, 5> nameKeys{{{"spot", &Names::spot},
                                                                                {"room", &Names::room},
                                                                                {"cue", &Names::cue},
                                                                                {"take", &Names::take},
                                                                                {"date", &Names::date}}};

/// The keys of a line and their values.
class Entries
{
public:
    explicit Entries(std::string_view text)
    {
        bool ended = false;
        for (std::size_t at = 0; at < text.size();)
        {
            const auto begin = text.find_first_not_of(" \t\r\n\v\f", at);
            if (begin == std::string_view::npos) break;
            const auto end = std::min(text.find_first_of(" \t\r\n\v\f", begin), text.size());
            const auto entry = text.substr(begin, end - begin);
            at = end;
            if (ended) throw RecallError("The recall line goes on after its 'end': copy one line only.");
            if (entry == ending)
                ended = true;
            else
                add(entry);
        }
        if (!ended) throw RecallError("The recall line is cut short: it has no 'end'. Copy all of it.");
    }

    [[nodiscard]] bool has(const std::string& key) const { return values.contains(key); }

    [[nodiscard]] std::string_view text(const std::string& key) const
    {
        const auto found = values.find(key);
        if (found == values.end()) throw RecallError("The recall line lacks '" + key + "': copy all of it.");
        return found->second;
    }

    /// The index of the value among these.
    [[nodiscard]] int choice(const std::string& key, const std::vector<std::string>& words) const
    {
        const auto value = text(key);
        const auto found = std::find(words.begin(), words.end(), value);
        if (found != words.end()) return static_cast<int>(found - words.begin());
        std::string list;
        for (const auto& each : words) list += (list.empty() ? "" : ", ") + each;
        throw RecallError("In the recall line '" + key + "' is " + quoted(value) + ", not one of " + list + ".");
    }
    [[nodiscard]] bool yes(const std::string& key) const { return choice(key, {"no", "yes"}) == 1; }

    /// In the unit of the line.
    [[nodiscard]] double number(const std::string& key, std::string_view unit, double least, double most) const
    {
        const auto value = text(key);
        auto digits = value;
        if (digits.ends_with(unit)) digits.remove_suffix(unit.size());
        const auto read = readNumber(digits);
        if (read && *read >= least && *read <= most) return *read;
        throw RecallError("In the recall line '" + key + "' is " + quoted(value) + ", not a number from " +
                          fixed(least, 0) + " to " + fixed(most, 0) + std::string(unit.empty() ? "" : " ") +
                          std::string(unit) + ".");
    }
    /// From ms in the line to whole nanoseconds, in s.
    [[nodiscard]] double seconds(const std::string& key, double leastMs, double mostMs) const
    {
        return std::round(number(key, "ms", leastMs, mostMs) * 1.0e6) / 1.0e9;
    }

private:
    void add(std::string_view entry)
    {
        const auto equals = entry.find('=');
        if (equals == std::string_view::npos || equals == 0)
            throw RecallError("In the recall line " + quoted(entry) + " is no 'key=value': copy it as it was.");
        if (const std::string key(entry.substr(0, equals)); !values.emplace(key, entry.substr(equals + 1)).second)
            throw RecallError("The recall line says " + quoted(key) + " twice: copy one line only.");
    }

    std::map<std::string, std::string> values;
};

/// A setting's word as one word: "as-recorded".
std::string hyphened(std::string_view words)
{
    std::string word(words);
    std::replace(word.begin(), word.end(), ' ', '-');
    return word;
}

std::string valueText(const Setting& setting, double value)
{
    if (setting.kind != Setting::Kind::number) return hyphened(setting.wordOf(value));
    if (setting.unit == Setting::Unit::milliseconds) return shortMs(value / 1000.0);
    return fixed(value, setting.decimals) + std::string(setting.unitName());
}

double readValue(const Entries& entries, const Setting& setting)
{
    const std::string key(setting.recallKey);
    if (setting.kind == Setting::Kind::number)
        return entries.number(key, setting.unitName(), setting.least, setting.most);
    std::vector<std::string> words;
    for (double value = setting.least; value <= setting.most; ++value) words.push_back(hyphened(setting.wordOf(value)));
    return setting.least + entries.choice(key, words);
}

Alignment readSide(const Entries& entries, const std::string& lag, const std::string& polarity)
{
    return {entries.seconds(lag, -100.0, 200.0),
            entries.choice(polarity, {"normal", "inverted"}) == 1 ? Polarity::inverted : Polarity::normal};
}

/// What follows the opening, if it is one of this format.
std::string_view afterOpening(std::string_view text)
{
    text = trimmed(text);
    if (text.empty()) throw RecallError("There is no recall line to read: copy one first.");
    if (!text.starts_with(opening) || text.size() > longest)
        throw RecallError("That is no recall line: one begins with 'Tarry recall 1:'.");
    text.remove_prefix(opening.size());
    const auto colon = text.find(':');
    const auto number = colon == std::string_view::npos ? std::nullopt : readNumber(text.substr(0, colon));
    if (!number) throw RecallError("That is no recall line: one begins with 'Tarry recall 1:'.");
    if (*number != RecallLine::format)
        throw RecallError("This recall line is of another format (" + std::string(text.substr(0, colon)) +
                          "), this Tarry reads format 1: use the Tarry that wrote it, or a later one.");
    return text.substr(colon + 1);
}
} // namespace

std::string writeRecallLine(const RecallLine& recall)
{
    std::string line = std::string(opening) + std::to_string(RecallLine::format) + ":";
    const auto put = [&line](std::string_view key, const std::string& value)
    { line.append(" ").append(key).append("=").append(value); };

    put("version", recall.version.empty() ? "unknown" : plain(recall.version));
    put("lag", recall.held ? exactMs(recall.held->side[0].lag) : "none");
    if (recall.held)
    {
        put("polarity", nameOf(recall.held->side[0].polarity));
        if (!(recall.held->side[0] == recall.held->side[1]))
        {
            put("right-lag", exactMs(recall.held->side[1].lag));
            put("right-polarity", nameOf(recall.held->side[1].polarity));
        }
        put("distance", fixed(distanceOf(recall.held->side[0].lag, recall.setup.temperature), 2) + "m");
    }
    for (const auto& setting : settingTable())
    {
        const double value = setting.valueIn(recall.controls, recall.setup);
        const bool goesWithoutSaying = setting.hint > 1 && value == setting.initial();
        if (!setting.recallKey.empty() && !goesWithoutSaying) put(setting.recallKey, valueText(setting, value));
    }
    put("by-hand", yesNo(recall.byHand));
    put("confidence", fixed(recall.confidence, 3));
    put("verdict", recall.verdict ? nameOf(*recall.verdict) : "none");
    for (const auto& [key, member] : nameKeys)
        if (const auto word = asWord(recall.names.*member); !word.empty()) put(key, word);
    if (recall.sampleRate > 0.0) put("rate", fixed(recall.sampleRate, 0) + "Hz");
    const auto trial = plain(recall.trial);
    put("trial", trial.empty() ? "none" : trial);
    return line + " " + std::string(ending);
}

RecallLine readRecallLine(std::string_view text)
{
    const Entries entries(afterOpening(text));
    RecallLine recall;
    recall.version = plain(std::string(entries.text("version")));
    if (entries.text("lag") != "none")
    {
        auto sides = Sides::both(readSide(entries, "lag", "polarity"));
        if (entries.has("right-lag") || entries.has("right-polarity"))
            sides.side[1] = readSide(entries, "right-lag", "right-polarity");
        recall.held = sides;
    }
    for (const auto& setting : settingTable())
    {
        const std::string key(setting.recallKey);
        if (key.empty() || (setting.hint > 1 && !entries.has(key))) continue; // an earlier release knew less
        setting.set(recall.controls, recall.setup, readValue(entries, setting));
    }
    recall.byHand = entries.yes("by-hand");
    recall.confidence = entries.number("confidence", {}, 0.0, 1.0);
    switch (entries.choice("verdict", {"none", "align", "leave", "unsure"}))
    {
    case 1:
        recall.verdict = Verdict::align;
        break;
    case 2:
        recall.verdict = Verdict::leave;
        break;
    case 3:
        recall.verdict = Verdict::unsure;
        break;
    default:
        break;
    }
    for (const auto& [key, member] : nameKeys)
        if (entries.has(key)) recall.names.*member = fromWord(entries.text(key));
    if (entries.has("rate")) recall.sampleRate = entries.number("rate", "Hz", 0.0, 1.0e6);
    if (const auto trial = entries.text("trial"); trial != "none") recall.trial = plain(std::string(trial));
    return recall;
}
} // namespace tarry
