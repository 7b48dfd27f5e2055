#include "Files/Picture.h"

#include "Files/Markup.h"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <locale>
#include <optional>
#include <sstream>
#include <vector>

namespace tarry
{
namespace
{
constexpr double left = 70.0, right = 930.0;  // px, of a sheet 960 wide
constexpr const char* spotColour = "#b45309"; // warm: the spot
constexpr const char* roomColour = "#0f4c75"; // cool: the room
constexpr const char* markColour = "#222222";

/// Words cut into lines of at most `width` characters, at spaces where there are any, and made safe for XML: a file's
/// name can hold any byte.
std::vector<std::string> wrapped(const std::string& text, std::size_t width)
{
    std::vector<std::string> lines(1);
    std::vector<std::string> word; // character by character
    std::size_t used = 0;
    const auto finishWord = [&]
    {
        if (used > 0 && used + 1 + word.size() > width)
        {
            lines.emplace_back();
            used = 0;
        }
        if (used > 0 && !word.empty())
        {
            lines.back() += ' ';
            ++used;
        }
        for (const std::string& character : word)
        {
            if (used == width)
            {
                lines.emplace_back();
                used = 0;
            }
            lines.back() += character;
            ++used;
        }
        word.clear();
    };
    for (std::size_t i = 0; i < text.size();)
    {
        const std::size_t size = characterAt(text, i);
        const char c = text[i];
        if (c == ' ')
            finishWord();
        else if (size == 0)
            word.emplace_back("\xEF\xBF\xBD"); // U+FFFD, the replacement character
        else
            word.push_back(c == '<' ? "&lt;" : c == '>' ? "&gt;" : c == '&' ? "&amp;" : text.substr(i, size));
        i += std::max<std::size_t>(size, 1);
    }
    finishWord();
    return lines;
}

/// One panel: a stretch of the sheet with a horizontal scale in ms or s and a vertical one of its own.
class Panel
{
public:
    Panel(std::ostream& stream, double panelTop, double panelHeight, double low, double high)
        : out(stream), top(panelTop), height(panelHeight), from(low), to(high)
    {
        out << "<rect x='" << left << "' y='" << top << "' width='" << right - left << "' height='" << height
            << "' fill='#fafaf7' stroke='#cccccc'/>\n";
    }

    [[nodiscard]] double x(double value) const { return left + (value - from) / (to - from) * (right - left); }
    [[nodiscard]] double y(double share) const { return top + (1.0 - share) * height; } // 0 bottom, 1 top
    [[nodiscard]] bool shows(double value) const { return value >= from && value <= to; }

    void title(const std::string& words) const { text(left, top - 8, words, "start", "title"); }

    void scale(const std::string& unit) const
    {
        const double step = niceStep((to - from) / 8.0);
        const int first = static_cast<int>(std::ceil(from / step));
        const int last = static_cast<int>(std::floor((to + 1e-9) / step));
        for (int i = first; i <= last; ++i)
        {
            const double v = i * step;
            out << "<line x1='" << x(v) << "' y1='" << top << "' x2='" << x(v) << "' y2='" << top + height
                << "' stroke='#e4e4de'/>\n";
            text(x(v), top + height + 15, shown(v, step < 0.1 ? 2 : step < 1.0 ? 1 : 0), "middle", "small");
        }
        text(right, top + height + 30, unit, "end", "small");
    }

    /// A line across, with words beside it: after it, or `ahead` of it where there is space.
    void mark(double value, const std::string& words, const char* dashes, double drop, bool ahead = false) const
    {
        if (!shows(value)) return;
        out << "<line x1='" << x(value) << "' y1='" << top << "' x2='" << x(value) << "' y2='" << top + height
            << "' stroke='" << markColour << "' stroke-dasharray='" << dashes << "'/>\n";
        const bool before = x(value) > right - 170.0 || (ahead && x(value) > left + 90.0);
        text(x(value) + (before ? -5 : 5), top + drop, words, before ? "end" : "start", "onCurve");
    }

    void text(double px, double py, const std::string& words, const char* anchor, const char* kind) const
    {
        out << "<text x='" << px << "' y='" << py << "' text-anchor='" << anchor << "' class='" << kind << "'>" << words
            << "</text>\n";
    }

    std::ostream& out;

private:
    static double niceStep(double rough)
    {
        const double decade = std::pow(10.0, std::floor(std::log10(rough)));
        for (const double nice : {1.0, 2.0, 5.0})
            if (nice * decade >= rough) return nice * decade;
        return 10.0 * decade;
    }

    double top, height, from, to;
};

std::string milliseconds(double seconds)
{
    return shown(seconds * 1e3, 2) + " ms";
}

/// A waveform, or any curve, as a line around `middle` (0 bottom to 1 top of the panel), `swing` of it up and down.
void drawCurve(const Panel& panel, const Curve& curve, double shift, double gain, double middle, double swing,
               const char* colour)
{
    panel.out << "<polyline fill='none' stroke='" << colour << "' stroke-width='1.2' points='";
    for (std::size_t i = 0; i < curve.values.size(); ++i)
    {
        const double ms = (curve.start + static_cast<double>(i) * curve.step + shift) * 1e3;
        if (!panel.shows(ms)) continue;
        const double value = std::clamp(gain * static_cast<double>(curve.values[i]), -1.0, 1.0);
        panel.out << panel.x(ms) << ',' << panel.y(middle + swing * value) << ' ';
    }
    panel.out << "'/>\n";
}

double loudest(const Curve& curve)
{
    double peak = 1e-12;
    for (const float x : curve.values) peak = std::max(peak, std::abs(static_cast<double>(x)));
    return peak;
}

/// s on the curve's own scale where the attack can be seen to begin. The detector finds it to a millisecond or two,
/// which would look like an error of the lag. 0 s where a drum that still rings hides it.
double visibleOnset(const Curve& attack)
{
    constexpr double search = 0.003, seen = 0.06; // s around 0; share of the loudest
    const auto valueAt = [&](std::size_t i) { return std::abs(static_cast<double>(attack.values[i])); };
    double before = 0.0;
    for (std::size_t i = 0; i < attack.values.size(); ++i)
    {
        const double time = attack.start + static_cast<double>(i) * attack.step;
        if (time > search) break;
        if (time < -search)
            before = std::max(before, valueAt(i));
        else if (valueAt(i) > std::max(2.0 * before, seen * loudest(attack)))
            return time;
    }
    return 0.0;
}

/// What the second picture of the attack shows: the measured lag and polarity, or what was printed with them.
struct Moved
{
    std::string title;
    Alignment applied;
};

Moved movedIn(const Measurement& measurement)
{
    const Report& report = measurement.report;
    const auto ms = [](double seconds) { return shown(std::abs(seconds) * 1e3, 2) + " ms"; };
    Moved moved{{}, {*report.lag, report.polarity.value_or(Polarity::normal)}};
    if (measurement.printed && !measurement.printed->sides.empty())
    {
        moved.applied = measurement.printed->sides.front();
        moved.title =
            "As printed: the spot " + ms(moved.applied.lag) + (moved.applied.lag < 0.0 ? " earlier" : " later");
        if (const double lean = measurement.printed->lean; lean != 0.0)
            moved.title += lean > 0.0 ? ", the room leading by " + ms(lean) : ", the spot leading by " + ms(lean);
    }
    else if (report.verdict != Verdict::align)
        moved.title = std::string("Were it moved all the same; the verdict is ") + nameOf(report.verdict);
    else
        moved.title = *report.lag < 0.0 ? "Aligned: the spot moved earlier" : "Aligned: the spot waits for the room";
    return moved;
}

void drawAttack(std::ostream& out, const Measurement& measurement, double top, const std::optional<Moved>& moved)
{
    const Report& report = measurement.report;
    const double lag = *report.lag, by = moved ? moved->applied.lag : 0.0;
    const double onset = visibleOnset(report.spotAttack);
    const double sign = moved && moved->applied.polarity == Polarity::inverted ? -1.0 : 1.0;
    const Panel panel(out, top, 130.0, 1e3 * std::min(0.0, lag) - 8.0, 1e3 * std::max(0.0, lag) + 25.0);
    panel.title(moved ? moved->title : "As recorded");
    panel.scale("ms after the spot's attack");
    drawCurve(panel, report.roomAttack, -onset, 1.0 / loudest(report.roomAttack), 0.28, 0.26, roomColour);
    drawCurve(panel, report.spotAttack, by - onset, sign / loudest(report.spotAttack), 0.72, 0.26, spotColour);
    panel.text(left - 6, panel.y(0.72) + 4, "spot", "end", "small");
    panel.text(left - 6, panel.y(0.28) + 4, "room", "end", "small");
    panel.mark(lag * 1e3, "room hears it", "4 3", 124.0, true);
    panel.mark(by * 1e3, "spot heard", "1 3", 16.0, true);
}

void drawEvidence(std::ostream& out, const Report& report, double top)
{
    const Curve& curve = report.evidence;
    const double end = curve.start + curve.step * static_cast<double>(curve.values.size());
    const Panel panel(out, top, 130.0, curve.start * 1e3, end * 1e3);
    panel.title("Evidence over lag: how clearly an attack begins in the room");
    panel.scale("lag, ms");
    drawCurve(panel, curve, 0.0, 1.0, 0.02, 0.9, roomColour);
    panel.mark(*report.lag * 1e3, "chosen: " + milliseconds(*report.lag), "4 3", 16.0);
    if (report.runnerUpLag)
        panel.mark(*report.runnerUpLag * 1e3, "next best: " + milliseconds(*report.runnerUpLag), "1 3", 32.0);
}

void drawHits(std::ostream& out, const Report& report, double top)
{
    constexpr double height = 150.0, shown = 0.005; // s above and below the agreed lag
    double last = 1.0;
    for (const HitReport& hit : report.hits) last = std::max(last, hit.time * 1.02);
    const Panel panel(out, top, height, 0.0, last);
    panel.title("Every hit by its own lag");
    panel.text(right, top - 8, "dot: agrees · cross: does not (at the edge: farther off) · ring: counts for little",
               "end", "small");
    panel.scale("time, s");
    for (const double ms : {-4.0, -2.0, 0.0, 2.0, 4.0})
    {
        panel.text(left - 6, panel.y(0.5 + 0.5 * ms * 1e-3 / shown) + 4, ms == 0.0 ? "lag" : shownSigned(ms, 0) + " ms",
                   "end", "small");
    }
    const auto y = [&](double lag) { return panel.y(std::clamp(0.5 + 0.5 * (lag - *report.lag) / shown, 0.03, 0.97)); };
    out << "<line x1='" << left << "' x2='" << right << "' y1='" << y(*report.lag) << "' y2='" << y(*report.lag)
        << "' stroke='" << markColour << "' stroke-dasharray='4 3'/>\n";
    for (const HitReport& hit : report.hits)
    {
        if (!hit.lag) continue;
        const double px = panel.x(hit.time), py = y(*hit.lag);
        if (!hit.used)
            out << "<circle cx='" << px << "' cy='" << py << "' r='3' fill='none' stroke='#777777'/>\n";
        else if (hit.agreeing)
            out << "<circle cx='" << px << "' cy='" << py << "' r='5' fill='" << roomColour << "'/>\n";
        else
            out << "<path d='M" << px - 5 << ' ' << py - 5 << "l10 10m0 -10l-10 10' stroke='" << spotColour
                << "' stroke-width='2'/>\n";
    }
}

std::string resultOf(const Report& report)
{
    if (!report.lag) return std::string("no lag found, verdict ") + nameOf(report.verdict);
    return "lag " + shown(*report.lag * 1e3, 3) + " ms, polarity " +
           nameOf(report.polarity.value_or(Polarity::normal)) + ", " + shownPercent(report.confidence) +
           " sure of the lag, verdict " + nameOf(report.verdict);
}

/// The words above the panels. Returns where they end, px.
double drawHead(std::ostream& out, const Measurement& measurement)
{
    const Report& report = measurement.report;
    double y = 12.0;
    const auto write = [&](const std::string& words, const char* kind, double step, std::size_t width)
    {
        for (const std::string& line : wrapped(words, width))
            out << "<text x='" << left << "' y='" << (y += step) << "' class='" << kind << "'>" << line << "</text>\n";
    };
    const bool late = report.lag.value_or(0.0) < 0.0;
    write("Spot " + measurement.spot.file.filename().string() + (late ? ", later than room " : ", room ") +
              measurement.room.file.filename().string(),
          "head", 21.0, 76);
    if (const std::string names = namesOf(measurement.names); !names.empty()) write(names, "small", 19.0, 125);
    write(std::to_string(measurement.spot.sampleRate) + " Hz, air at " + shown(measurement.settings.temperature, 1) +
              " °C",
          "small", 17.0, 125);
    write(resultOf(report), "strong", 22.0, 115);
    if (measurement.printed) write("Printed " + measurement.printed->file.string(), "strong", 18.0, 115);
    for (const std::string& reason : report.reasons) write(reason, "small", 17.0, 125);
    if (const std::string tape = tapeSentence(measurement); !tape.empty()) write("Tape: " + tape, "small", 17.0, 125);
    for (const std::string& note : measurement.notes) write(note, "small", 17.0, 125);
    return y;
}
} // namespace

std::string toSvg(const Measurement& measurement)
{
    constexpr double panels = 780.0; // px that they need
    std::ostringstream body;
    body.imbue(std::locale::classic()); // a point for the decimals, whatever the program's locale
    body << std::fixed << std::setprecision(2);
    const double top = drawHead(body, measurement) + 38.0;
    const Report& report = measurement.report;
    if (report.lag)
    {
        drawAttack(body, measurement, top, std::nullopt);
        drawAttack(body, measurement, top + 190.0, movedIn(measurement));
        drawEvidence(body, report, top + 380.0);
        drawHits(body, report, top + 570.0);
    }
    const int height = static_cast<int>(report.lag ? top + panels : top);
    std::ostringstream out;
    out.imbue(std::locale::classic());
    out << "<svg xmlns='http://www.w3.org/2000/svg' width='960' height='" << height << "' viewBox='0 0 960 " << height
        << "'>\n<style>text{font-family:sans-serif;fill:#222}.title{font-size:14px;font-weight:bold}"
           ".small{font-size:12px}.strong{font-size:13px;font-weight:bold}.head{font-size:17px;font-weight:bold}"
           ".onCurve{font-size:12px;paint-order:stroke;stroke:#fafaf7;stroke-width:5px}"
           "</style>\n<rect width='960' height='"
        << height << "' fill='#ffffff'/>\n"
        << body.str() << "</svg>\n";
    return out.str();
}
} // namespace tarry
