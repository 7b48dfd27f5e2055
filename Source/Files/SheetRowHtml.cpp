#include "Files/SheetRowHtml.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"
#include "Files/AttackStrips.h"
#include "Files/ClipFiles.h"
#include "Files/Markup.h"
#include "Files/SheetWords.h"

#include <array>
#include <cmath>

namespace tarry
{
namespace
{
struct Head
{
    const char* name;
    bool number;
};
constexpr std::array<Head, 10> heads{{{"cue", false},
                                      {"take", false},
                                      {"spot", false},
                                      {"lag, ms", true},
                                      {"samples", true},
                                      {"polarity", false},
                                      {"verdict", false},
                                      {"confidence", true},
                                      {"hits", true},
                                      {"decision", false}}};

/// One cell; `of`: its column, for narrow screens where the heads do not stand above it.
std::string cell(std::size_t column, const std::string& html, const std::string& kinds = {})
{
    std::string all = kinds;
    if (heads[column].number) all += all.empty() ? "n" : " n";
    return "<td data-of=\"" + std::string(heads[column].name) + "\"" + (all.empty() ? "" : " class=\"" + all + "\"") +
           ">" + html + "</td>";
}

/// Name and value, where there is a value.
void figure(std::string& list, const char* name, const std::string& value, bool wide = false)
{
    if (value.empty()) return;
    const std::string kind = wide ? " class=\"wide\"" : "";
    list += "<dt" + kind + ">" + name + "</dt><dd" + kind + ">" + escaped(value) + "</dd>";
}

/// What is done with the spot, in a word and what goes with it.
std::string decisionWords(const SessionRow& row)
{
    if (row.failed()) return "none";
    if (row.decision == Decision::leave) return "leave as recorded";
    return row.lean == 0.0 ? "align" : "align, lean " + signedMsWords(row.lean);
}

std::string hitsWords(const SessionRow& row)
{
    return std::to_string(row.own.hitsAgreeing) + " of " + std::to_string(row.own.hitsUsed);
}

std::string mainLine(const SessionRow& row)
{
    std::string line = "<tr><th scope=\"row\" data-of=\"cue\">" + escaped(row.cue) + "</th>" +
                       cell(1, escaped(row.take)) + cell(2, escaped(spotName(row)));
    if (row.failed())
        return line + "<td colspan=\"7\" class=\"flag\">" + (row.lag ? "measured, not printed" : "not measured") +
               "</td></tr>\n";
    line += cell(3, row.lag ? shown(1e3 * *row.lag, 3) : "none", "lag");
    line += cell(4, row.lag ? shown(row.lagSamples(), 2) : "");
    line += cell(5, row.lag ? nameOf(row.polarity) : "");
    line += cell(6, nameOf(row.verdict));
    line += cell(7, row.lag ? escaped(confidenceWords(row.confidence)) : "");
    line += cell(8, hitsWords(row));
    return line + cell(9, escaped(decisionWords(row))) + "</tr>\n";
}

std::string polarityAlone(const LagFigures& own)
{
    return own.lag ? msWords(*own.lag) + ", " + nameOf(own.polarity) + ", " + confidenceWords(own.confidence)
                   : "none found";
}

std::string ownFigures(const SessionRow& row)
{
    if (!row.fromPool) return {};
    return polarityAlone(row.own) +
           (row.againstPool ? "; " + signedMsWords(*row.againstPool) + " against the pool" : "");
}

std::string tapeWords(const SessionRow& row)
{
    if (!row.tape) return {};
    return fixed(row.tape->metres, 2) + " m, lag " + signedMsWords(row.tape->difference) +
           (row.tape->agrees ? ": agrees" : ": does not agree");
}

std::string printWords(const PrintRecord& print)
{
    std::string text = print.file + " (" + print.format;
    if (print.timeStampOnly)
        text += ", samples untouched, time stamp moved by " + shownSigned(print.movedSamples, 0) + " samples";
    if (print.clipped > 0) text += ", " + plural(print.clipped, "sample") + " held at full scale";
    return text + "), SHA-256 " + print.sha256.substr(0, 16) +
           "\xE2\x80\xA6"; // sheet.json and sheet.csv have all of it
}

std::string roomWords(const SessionRow& row)
{
    std::string text = row.roomFile + " (" + row.roomChannel + ")";
    if (row.roomRate != row.spotRate && row.roomRate > 0) text += ", " + rateWords(row.roomRate);
    if (row.laidByTimeStamp)
        return text + ", laid by its time stamp, " + signedMsWords(row.roomStartsAfter, 1) + " after the spot's";
    return row.roomRate > 0 ? text + ", taken to start with the spot's" : text;
}

std::string figures(const SessionRow& row, const SetupRecord* pool)
{
    std::string list;
    if (!row.failed() && row.lag)
    {
        figure(list, "delay", row.decision == Decision::align ? msWords(row.applied().lag, 3) : "none");
        figure(list, "spread", msWords(row.own.spread, 3));
        figure(list, "low sum", dbWords(row.lowSumNormal) + " normal, " + dbWords(row.lowSumInverted) + " inverted");
        figure(list, "attack gain", dbWords(row.own.attackGainDb));
        figure(list, "flam", msWords(row.own.flamBefore, 1) + " to " + msWords(row.own.flamAfter, 1));
        figure(list, "clear by", fixed(row.own.clearDb, 1) + " dB");
        if (row.distance)
            figure(list, "distance",
                   fixed(*row.distance, 2) + " m, " + fixed(*row.distance / metresPerFoot, 1) + " ft");
    }
    if (row.own.hitsUnheard > 0)
        figure(list, "unheard", plural(row.own.hitsUnheard, "sound") + " the room does not answer");
    if (row.own.driftPpm)
        figure(list, "drift", shownSigned(*row.own.driftPpm, 2) + " \xC2\xB1 " + fixed(row.own.driftPpmSd, 2) + " ppm");
    figure(list, "tape", tapeWords(row));
    figure(list, "take alone", ownFigures(row), true);
    if (pool != nullptr)
        figure(list, "pool", pool->name + ", " + plural(pool->takes, "take") + (row.fromPool ? "" : " (not used here)"),
               true);
    if (!row.decidedBy.empty() || !row.decidedOn.empty())
        figure(list, "decided", row.decidedBy + (row.decidedOn.empty() ? "" : ", " + row.decidedOn), true);
    figure(list, "spot", row.spotFile + (row.spotRate > 0 ? ", " + rateWords(row.spotRate) : ""), true);
    figure(list, "room", roomWords(row), true);
    if (row.print) figure(list, "print", printWords(*row.print), true);
    figure(list, "note", row.note, true);
    return "<dl>" + list + "</dl>";
}

std::string sentences(const SessionRow& row)
{
    std::string list;
    const auto add = [&](const std::string& sentence, const char* kind)
    {
        if (!sentence.empty()) list += std::string("<li") + kind + ">" + escaped(sentence) + "</li>";
    };
    add(row.failure, " class=\"flag\"");
    for (const auto& why : row.wantsEar)
        if (why != row.failure) add(why, " class=\"flag\"");
    for (const auto& reason : row.reasons) add(reason, "");
    for (const auto& note : row.notes) add(note, "");
    return list.empty() ? list : "<ul>" + list + "</ul>";
}

std::string hearing(const SessionRow& row)
{
    if (row.clips.empty()) return {};
    const auto files = clipFilesOf(row);
    const std::string name = escaped(rowName(row));
    return "<p class=\"hear\" role=\"group\" aria-label=\"Blend of " + name +
           "\"><span class=\"dim\">in the blend</span> <a href=\"" + files[0] + "\">as recorded</a> <a href=\"" +
           files[1] + "\">aligned</a></p>";
}

std::string picture(const SessionRow& row)
{
    if (!row.attack) return {};
    const std::string words = "Attack of " + rowName(row) + ": room, spot as recorded" +
                              (row.lag ? ", " + msWords(*row.lag, 2) + " before it" : "") + ", and spot aligned";
    return attackStrips(*row.attack, row.lag.value_or(0.0), words);
}

std::string kindsOf(const SessionRow& row)
{
    std::string kinds = row.wantsEar.empty() ? "" : "ear ";
    return kinds +
           (row.failed() ? "failed" : std::string("is-") + nameOf(row.verdict) + " does-" + nameOf(row.decision)) +
           (row.moved ? " moved" : "");
}
} // namespace

std::string rowAnchor(const SessionRow& row)
{
    return "line-" + std::to_string(row.line);
}

std::string sheetRowHeads()
{
    std::string cells;
    for (const Head& head : heads)
        cells += std::string("<th scope=\"col\"") + (head.number ? " class=\"n\"" : "") + ">" + head.name + "</th>";
    return cells;
}

std::string sheetRowHtml(const SessionRow& row, const SetupRecord* pool)
{
    const std::string drawing = picture(row);
    std::string html = "<tbody id=\"" + rowAnchor(row) + "\" class=\"" + kindsOf(row) + "\">" + mainLine(row);
    html += "<tr class=\"more\"><td colspan=\"" + std::to_string(heads.size()) + "\"><div class=\"detail\">";
    if (!drawing.empty() || !row.clips.empty()) html += "<div>" + drawing + hearing(row) + "</div>";
    html += "<div>" + sentences(row) + figures(row, pool);
    if (!row.recallLine.empty()) html += "<p class=\"recall\"><code>" + escaped(row.recallLine) + "</code></p>";
    return html + "</div></div></td></tr></tbody>\n";
}
} // namespace tarry
