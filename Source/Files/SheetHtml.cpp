#include "Files/SheetHtml.h"

#include "Core/Ground/Text.h"
#include "Files/Markup.h"
#include "Files/PageParts.h"
#include "Files/SheetRowHtml.h"
#include "Files/SheetWords.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace tarry
{
namespace
{
std::string paragraph(const std::string& text, const char* more = "")
{
    return std::string("<p") + more + ">" + escaped(text) + "</p>\n";
}

/// A table of rows of plain text; columns from `firstNumber` on are numbers.
class Table
{
public:
    Table(const std::string& name, const std::vector<std::string>& heads, std::size_t firstNumber)
        : numbersFrom(firstNumber)
    {
        // Wider than a small screen: it scrolls on its own, by keys too.
        html = "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"" + escaped(name) +
               ", table\"><table><thead>";
        row(heads, "th scope=\"col\"", "th");
        html += "</thead><tbody>\n";
    }
    void add(const std::vector<std::string>& cells) { row(cells, "td", "td"); }
    [[nodiscard]] std::string done() const { return html + "</tbody></table></div>\n"; }

private:
    void row(const std::vector<std::string>& cells, const std::string& open, const std::string& close)
    {
        html += "<tr>";
        for (std::size_t i = 0; i < cells.size(); ++i)
            html +=
                "<" + open + (i >= numbersFrom ? " class=\"n\"" : "") + ">" + escaped(cells[i]) + "</" + close + ">";
        html += "</tr>\n";
    }

    std::string html;
    std::size_t numbersFrom;
};

std::string count(long long number, const std::string& what)
{
    return "<li><b>" + std::to_string(number) + "</b> " + what + "</li>";
}

std::string head(const SessionRecord& record)
{
    std::set<std::string> cues;
    long long aligned = 0, left = 0, failed = 0, ear = 0;
    for (const auto& row : record.rows)
    {
        cues.insert(row.cue);
        if (row.failed())
            ++failed;
        else
            ++(row.decision == Decision::align ? aligned : left);
        if (!row.failed() && !row.wantsEar.empty()) ++ear;
    }
    const auto cueCount = static_cast<long long>(cues.size()), rowCount = static_cast<long long>(record.rows.size());
    std::string html = "<header>\n<h1>Recall sheet: " + escaped(record.plan) + "</h1>\n";
    html += paragraph((record.planned.empty() ? "" : "Plan of " + record.planned + ". ") + "Written by Tarry " +
                          record.version + (record.build.empty() ? "" : " (build " + escaped(record.build) + ")") +
                          ", schema " + std::to_string(SessionRecord::schema) + ".",
                      " class=\"dim\"");
    html += "<ul class=\"counts\">" + count(rowCount, rowCount == 1 ? "spot" : "spots") +
            count(cueCount, cueCount == 1 ? "cue" : "cues") + count(ear, ear == 1 ? "wants an ear" : "want an ear") +
            count(aligned, "aligned") + count(left, "left as recorded") + count(failed, "failed") + "</ul>\n";
    html += "<div class=\"caution\"><p><strong>Caution.</strong> " + escaped(sheetCaution) + "</p></div>\n";
    for (const auto& note : record.notes) html += paragraph(note);
    if (record.wholeSamples) html += paragraph("Prints are moved by whole samples.");
    if (record.timeStamp) html += paragraph("Prints keep their samples; only their time stamps are moved.");
    return html + "</header>\n";
}

std::string linkTo(const SessionRow& row)
{
    return "<a href=\"#" + rowAnchor(row) + "\">" + escaped(rowName(row)) + "</a>";
}

/// What somebody has to look at before anything else: failures, then doubts, in the plan's order.
std::string wantsEar(const SessionRecord& record)
{
    std::string failures, doubts;
    for (const auto& row : record.rows)
    {
        std::string why;
        const auto add = [&why](const std::string& sentence)
        { why += "<span class=\"why\">" + escaped(sentence) + "</span>"; };
        if (row.failed())
            add(row.failure);
        else
            for (const auto& each : row.wantsEar) add(each);
        if (!why.empty()) (row.failed() ? failures : doubts) += "<li>" + linkTo(row) + why + "</li>\n";
    }
    std::string html = "<section aria-labelledby=\"ear\"><h2 id=\"ear\">Wants an ear</h2>\n";
    html += doubts.empty() ? paragraph("Nothing: no lag, setup or machine asks for a second look.")
                           : "<ul class=\"ear\">\n" + doubts + "</ul>\n";
    html += "</section>\n";
    if (!failures.empty())
        html += "<section aria-labelledby=\"failed\"><h2 id=\"failed\">Failed</h2>\n<ul class=\"ear\">\n" + failures +
                "</ul></section>\n";
    return html;
}

std::string rows(const SessionRecord& record)
{
    std::map<std::string, const SetupRecord*> pools;
    for (const auto& setup : record.setups) pools[setup.name] = &setup;
    std::string html = "<section aria-labelledby=\"spots\"><h2 id=\"spots\">Every spot</h2>\n"
                       "<div class=\"tools\"><label><input type=\"checkbox\" id=\"compact\">figures only</label>"
                       "<div class=\"tools\" id=\"tools\" hidden></div></div>\n"
                       "<table class=\"rows\" id=\"rows\"><thead><tr>" +
                       sheetRowHeads() + "</tr></thead>\n";
    for (const auto& row : record.rows)
    {
        const auto found = pools.find(row.pool);
        html += sheetRowHtml(row, found == pools.end() ? nullptr : found->second);
    }
    return html + "</table></section>\n";
}

std::string takeName(const std::string& cue, const std::string& take)
{
    return cue + (take.empty() ? "" : " take " + take);
}

std::string setups(const SessionRecord& record)
{
    if (record.setups.empty()) return {};
    Table table("Setups",
                {"setup", "from", "to", "polarity", "verdict", "takes", "lag, ms", "confidence", "hits", "spread, ms",
                 "takes apart, ms", "drift, ppm"},
                5);
    for (const auto& setup : record.setups)
    {
        const LagFigures& pooled = setup.pooled;
        table.add({setup.name + (setup.byClap ? " (by a clap)" : ""), takeName(setup.firstCue, setup.firstTake),
                   takeName(setup.lastCue, setup.lastTake), pooled.lag ? nameOf(pooled.polarity) : "",
                   nameOf(pooled.verdict), std::to_string(setup.takesAgreeing) + " of " + std::to_string(setup.takes),
                   pooled.lag ? shown(1e3 * *pooled.lag, 3) : "none",
                   pooled.lag ? confidenceWords(pooled.confidence) : "",
                   std::to_string(pooled.hitsAgreeing) + " of " + std::to_string(pooled.hitsUsed),
                   fixed(1e3 * pooled.spread, 3), fixed(1e3 * setup.takesSpread, 3),
                   pooled.driftPpm ? shownSigned(*pooled.driftPpm, 2) : ""});
    }
    return "<section aria-labelledby=\"setups\"><h2 id=\"setups\">Setups</h2>\n" +
           paragraph("Takes that share spot and room microphone, nothing moved, with their hits pooled.",
                     " class=\"dim\"") +
           table.done() + "</section>\n";
}

std::string machines(const SessionRecord& record)
{
    if (record.machines.empty()) return {};
    Table table("Clocks", {"spot's machine", "room's machine", "drift, ppm", "takes", "over the longest take"}, 2);
    for (const auto& machine : record.machines)
        table.add({machine.spot, machine.room, shownSigned(machine.ppm, 2) + " \xC2\xB1 " + fixed(machine.ppmSd, 2),
                   std::to_string(machine.takes), machine.matters ? "more than 0.5 ms" : "no matter"});
    return "<section aria-labelledby=\"clocks\"><h2 id=\"clocks\">Clocks</h2>\n" +
           paragraph("Positive: the room falls further behind.", " class=\"dim\"") + table.done() + "</section>\n";
}

std::string percent(double share)
{
    return fixed(100.0 * share, 0) + " %";
}

std::string tallies(const SessionRecord& record, bool preference)
{
    Table table(preference ? "Which is better" : "Which is X",
                {"spot", "listeners", "answers", preference ? "aligned preferred" : "right", "share", "95 % interval",
                 "by chance", preference ? "listeners for aligned" : "listeners above half", "by chance"},
                1);
    bool any = false;
    for (const auto& tally : record.tallies)
    {
        if (tally.preference != preference) continue;
        any = true;
        table.add({tally.name.empty() ? "all of them" : tally.name, std::to_string(tally.listeners),
                   std::to_string(tally.answers), std::to_string(tally.hits), percent(tally.share()),
                   percent(tally.low) + " to " + percent(tally.high), chanceWords(tally.p),
                   std::to_string(tally.listenersFor) + " to " + std::to_string(tally.listenersAgainst),
                   chanceWords(tally.listenersP)});
    }
    if (!any) return {};
    return "<h3>" + std::string(preference ? "Which is better, A or B?" : "Which of the two is X?") + "</h3>\n" +
           table.done();
}

std::string trials(const SessionRecord& record)
{
    if (record.tallies.empty()) return {};
    return "<section aria-labelledby=\"trials\"><h2 id=\"trials\">Blind trials</h2>\n" + tallies(record, false) +
           tallies(record, true) +
           paragraph(
               "Which is X: one-sided binomial test against guessing. Which is better: two-sided sign test against no "
               "preference. Intervals: exact, Clopper and Pearson. One listener's answers hang together, so each "
               "listener "
               "is also counted once, by the side most answers fell on; who is split evenly is left out there. A "
               "figure by "
               "chance of 0.05 or less is commonly called significant; with many spots, expect one in twenty of them "
               "by "
               "chance alone.",
               " class=\"dim\"") +
           "</section>\n";
}

std::string legend()
{
    return "<section aria-labelledby=\"how\"><h2 id=\"how\">How to read it, and how to set it again</h2>\n" +
           paragraph(
               "Lag: how much later the room hears an attack than the spot; the spot is delayed by lag and lean. "
               "Positive "
               "lean: the room leads. Samples are the lag at the spot's own rate. Polarity inverted: the spot's attack "
               "pushes where the room's pulls. Confidence: probability that the lag is right to within 0.5 ms. Low "
               "sum: dB "
               "by which spot and room together gain or lose below 250 Hz, against adding them without phase. Hits: "
               "how "
               "many of those used agree on the lag.") +
           "<p>On another rig: paste a row's recall line into the plugin (Setup, Recall), or print everything again "
           "with "
           "<code>tarry print --from sheet.json -o FOLDER</code>.</p></section>\n";
}
} // namespace

std::string toHtml(const SessionRecord& record)
{
    std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                       "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                       "<meta name=\"generator\" content=\"Tarry " +
                       escaped(record.version) + "\">\n<title>" + escaped(record.plan) +
                       " - recall sheet</title>\n<style>\n";
    page.append(pagePart("look.css")).append(pagePart("sheet.css"));
    page += "</style>\n</head>\n<body>\n" + head(record) + "<main>\n" + wantsEar(record) + rows(record) +
            setups(record) + machines(record) + trials(record) + legend() + "</main>\n<script>\n";
    page.append(pagePart("sheet.js"));
    return page + "</script>\n</body>\n</html>\n";
}
} // namespace tarry
