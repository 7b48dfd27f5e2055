#include "Files/Picture.h"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <sstream>

namespace tarry
{
namespace
{
constexpr double left = 70.0, right = 930.0;  // px, of a sheet 960 wide
constexpr const char* spotColour = "#b45309"; // warm: the spot
constexpr const char* roomColour = "#0f4c75"; // cool: the room
constexpr const char* markColour = "#222222";

std::string escaped(const std::string& text)
{
    std::string result;
    for (const char c : text) result += c == '<' ? "&lt;" : c == '>' ? "&gt;" : c == '&' ? "&amp;" : std::string(1, c);
    return result;
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
            std::ostringstream label;
            label << v;
            text(x(v), top + height + 15, label.str(), "middle", "small");
        }
        text(right, top + height + 30, unit, "end", "small");
    }

    void mark(double value, const std::string& words, const char* dashes, double drop = 14.0) const
    {
        if (!shows(value)) return;
        out << "<line x1='" << x(value) << "' y1='" << top << "' x2='" << x(value) << "' y2='" << top + height
            << "' stroke='" << markColour << "' stroke-dasharray='" << dashes << "'/>\n";
        const bool nearEnd = x(value) > right - 170.0;
        text(x(value) + (nearEnd ? -5 : 5), top + drop, words, nearEnd ? "end" : "start", "small");
    }

    void text(double px, double py, const std::string& words, const char* anchor, const char* kind) const
    {
        out << "<text x='" << px << "' y='" << py << "' text-anchor='" << anchor << "' class='" << kind << "'>"
            << escaped(words) << "</text>\n";
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
    std::ostringstream text;
    text << std::fixed << std::setprecision(2) << seconds * 1e3 << " ms";
    return text.str();
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

void drawAttack(std::ostream& out, const Report& report, double top, bool aligned)
{
    const double lag = report.lag.value_or(0.0);
    const double sign = aligned && report.polarity == Polarity::inverted ? -1.0 : 1.0;
    const Panel panel(out, top, 130.0, 1e3 * std::min(0.0, lag) - 5.0, 1e3 * std::max(0.0, lag) + 25.0);
    panel.title(aligned ? "Aligned: the spot waits for the room" : "As recorded");
    panel.scale("ms after the spot's attack");
    drawCurve(panel, report.roomAttack, 0.0, 1.0 / loudest(report.roomAttack), 0.28, 0.26, roomColour);
    drawCurve(panel, report.spotAttack, aligned ? lag : 0.0, sign / loudest(report.spotAttack), 0.72, 0.26, spotColour);
    panel.text(left + 6, top + 16, "spot", "start", "small");
    panel.text(left + 6, top + 122, "room", "start", "small");
    panel.mark(lag * 1e3, "room hears it", "4 3", 126.0);
    panel.mark(aligned ? lag * 1e3 : 0.0, "spot heard", "1 3", 14.0);
}

void drawEvidence(std::ostream& out, const Report& report, double top)
{
    const Curve& curve = report.evidence;
    const double end = curve.start + curve.step * static_cast<double>(curve.values.size());
    const Panel panel(out, top, 130.0, curve.start * 1e3, end * 1e3);
    panel.title("Evidence over lag: how clearly an attack begins in the room");
    panel.scale("lag, ms");
    drawCurve(panel, curve, 0.0, 1.0, 0.02, 0.9, roomColour);
    panel.mark(*report.lag * 1e3, "chosen: " + milliseconds(*report.lag), "4 3");
    if (report.runnerUpLag)
        panel.mark(*report.runnerUpLag * 1e3, "next best: " + milliseconds(*report.runnerUpLag), "1 3", 30.0);
}

void drawHits(std::ostream& out, const Report& report, double top)
{
    constexpr double height = 150.0, shown = 0.005; // s above and below the agreed lag
    double last = 1.0;
    for (const HitReport& hit : report.hits) last = std::max(last, hit.time * 1.02);
    const Panel panel(out, top, height, 0.0, last);
    panel.title(
        "Hits by their own lag: filled = agrees, cross = does not, small ring = counts for little (5 ms up and down)");
    panel.scale("time, s");
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
} // namespace

std::string toSvg(const Measurement& measurement)
{
    const Report& report = measurement.report;
    std::ostringstream out;
    out << std::fixed << std::setprecision(2);
    out << "<svg xmlns='http://www.w3.org/2000/svg' width='960' height='860' viewBox='0 0 960 860'>\n"
           "<style>text{font-family:sans-serif;fill:#222}.title{font-size:14px;font-weight:bold}.small{font-size:12px}"
           ".head{font-size:17px;font-weight:bold}</style>\n<rect width='960' height='860' fill='#ffffff'/>\n";
    const auto line = [&](double y, const std::string& words, const char* kind)
    { out << "<text x='" << left << "' y='" << y << "' class='" << kind << "'>" << escaped(words) << "</text>\n"; };
    line(30, measurement.spot.file.filename().string() + " waits for " + measurement.room.file.filename().string(),
         "head");
    std::ostringstream result;
    if (report.lag)
        result << "lag " << milliseconds(*report.lag) << ", polarity "
               << nameOf(report.polarity.value_or(Polarity::normal)) << ", confidence " << std::fixed
               << std::setprecision(2) << report.confidence << ", verdict " << nameOf(report.verdict);
    else
        result << "no lag found, verdict " << nameOf(report.verdict);
    line(52, result.str(), "small");
    if (!report.reasons.empty()) line(70, report.reasons.front(), "small");
    if (report.lag)
    {
        drawAttack(out, report, 105.0, false);
        drawAttack(out, report, 290.0, true);
        drawEvidence(out, report, 475.0);
        drawHits(out, report, 660.0);
    }
    out << "</svg>\n";
    return out.str();
}
} // namespace tarry
