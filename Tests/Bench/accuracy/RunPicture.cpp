#include "RunPicture.h"

#include <algorithm>
#include <fstream>
#include <stdexcept>

namespace tarry::bench
{
namespace
{
// Layout, in px.
constexpr double left = 170.0, stripWidth = 640.0, top = 96.0, rowHeight = 46.0;
constexpr double reliabilitySize = 300.0, gap = 110.0;
constexpr double width = left + stripWidth + gap + reliabilitySize + 40.0;

struct Shown
{
    std::size_t method;
    const char* colour;
    const char* name;
};
constexpr std::array<Shown, 3> shown{
    {{0, "#0a5fa8", "Tarry"}, {1, "#d1495b", "GCC-PHAT"}, {3, "#8f8f8f", "first break (AIC)"}}};

/// Errors from 0.01 ms to 100 ms on a logarithmic scale; what has no answer goes to the far right.
double errorPlace(std::optional<double> seconds)
{
    const double ms = seconds ? std::abs(*seconds) * 1e3 : 100.0;
    const double decades = (std::log10(std::clamp(ms, 0.01, 100.0)) + 2.0) / 4.0;
    return left + decades * stripWidth;
}

std::string escaped(const std::string& text)
{
    std::string result;
    for (const char c : text) result += c == '<' ? "&lt;" : c == '&' ? "&amp;" : std::string(1, c);
    return result;
}

void text(std::ostream& out, double x, double y, const std::string& words, const char* style)
{
    out << "<text x='" << x << "' y='" << y << "' " << style << ">" << escaped(words) << "</text>\n";
}

void line(std::ostream& out, double x1, double y1, double x2, double y2, const char* style)
{
    out << "<line x1='" << x1 << "' y1='" << y1 << "' x2='" << x2 << "' y2='" << y2 << "' " << style << "/>\n";
}

void drawErrors(std::ostream& out, const std::vector<Outcome>& outcomes, const std::vector<TierScore>& scores)
{
    std::vector<const TierScore*> rows;
    for (const auto& tier : scores)
        if (tier.hasLag) rows.push_back(&tier);
    const double bottom = top + rowHeight * static_cast<double>(rows.size());

    out << "<rect x='" << left << "' y='" << top << "' width='" << errorPlace(0.0005) - left << "' height='"
        << bottom - top << "' fill='#eef6ee'/>\n";
    for (const double ms : {0.01, 0.1, 0.5, 1.0, 10.0, 100.0})
    {
        const double x = errorPlace(ms / 1e3);
        line(out, x, top, x, bottom, ms == 0.5 ? "stroke='#4b9b4b'" : "stroke='#dddddd'");
        std::string label = std::to_string(ms);
        label.erase(label.find_last_not_of('0') + 1);
        if (label.back() == '.') label.pop_back();
        text(out, x, bottom + 16, label, "text-anchor='middle' class='small'");
    }
    text(out, left + stripWidth / 2, bottom + 34,
         "off by, ms (a dot a scene; green: within 0.5 ms; far right: no lag given)",
         "text-anchor='middle' class='small'");

    for (std::size_t r = 0; r < rows.size(); ++r)
    {
        const double y = top + rowHeight * static_cast<double>(r);
        line(out, left - 160, y + rowHeight, left + stripWidth, y + rowHeight, "stroke='#eeeeee'");
        text(out, left - 10, y + 20, rows[r]->tier, "text-anchor='end'");
        text(out, left - 10, y + 36,
             std::to_string(rows[r]->methods[0].within500us) + " of " + std::to_string(rows[r]->scenes) + " right",
             "text-anchor='end' class='small'");
        for (std::size_t s = 0; s < shown.size(); ++s)
        {
            int n = 0;
            for (const auto& outcome : outcomes)
            {
                if (outcome.tier != rows[r]->tier || rows[r]->methods[shown[s].method].answers == 0) continue;
                const double lane = y + 8.0 + 14.0 * static_cast<double>(s) + 2.0 * static_cast<double>(n++ % 3 - 1);
                out << "<circle cx='" << errorPlace(outcome.error(shown[s].method)) << "' cy='" << lane
                    << "' r='2.4' fill='" << shown[s].colour << "' fill-opacity='0.55'/>\n";
            }
        }
    }
}

void drawReliability(std::ostream& out, const Calibration& calibration)
{
    const double x0 = left + stripWidth + gap, y0 = top + reliabilitySize;
    const auto x = [&](double p) { return x0 + p * reliabilitySize; };
    const auto y = [&](double p) { return y0 - p * reliabilitySize; };
    out << "<rect x='" << x0 << "' y='" << top << "' width='" << reliabilitySize << "' height='" << reliabilitySize
        << "' fill='none' stroke='#bbbbbb'/>\n";
    line(out, x(0), y(0), x(1), y(1), "stroke='#4b9b4b'");
    for (const double p : {0.0, 0.5, 1.0})
    {
        const auto label = p == 0.5 ? "0.5" : p == 0.0 ? "0" : "1";
        text(out, x(p), y0 + 16, label, "text-anchor='middle' class='small'");
        text(out, x0 - 8, y(p) + 4, label, "text-anchor='end' class='small'");
    }
    text(out, x(0.5), y0 + 34, "confidence said (area: number of scenes)", "text-anchor='middle' class='small'");
    text(out, x0, top - 10, "share within 0.5 ms", "class='small'");
    for (const auto& bin : calibration.bins)
    {
        if (bin.count == 0) continue;
        const double radius = 3.0 + 16.0 * std::sqrt(static_cast<double>(bin.count) / calibration.count);
        // The binomial standard deviation, with one of each added so that a bin of one is not certain.
        const double p = (bin.right * bin.count + 1.0) / (bin.count + 2.0);
        const double sd = std::sqrt(p * (1.0 - p) / (bin.count + 2.0));
        line(out, x(bin.said), y(std::min(1.0, p + sd)), x(bin.said), y(std::max(0.0, p - sd)), "stroke='#0a5fa8'");
        out << "<circle cx='" << x(bin.said) << "' cy='" << y(bin.right) << "' r='" << radius
            << "' fill='#0a5fa8' fill-opacity='0.45'/>\n";
    }
    char summary[160];
    std::snprintf(summary, sizeof summary, "%d scenes, expected calibration error %.3f, Brier %.3f", calibration.count,
                  calibration.expectedError, calibration.brier);
    text(out, x0, y0 + 62, summary, "class='small'");
    std::snprintf(summary, sizeof summary, "wrong with confidence of 0.9 or more: %d", calibration.surelyWrong);
    text(out, x0, y0 + 80, summary, "class='small'");
}

void drawVerdicts(std::ostream& out, const std::vector<TierScore>& scores)
{
    const double x0 = left + stripWidth + gap, barWidth = 170.0;
    double y = top + reliabilitySize + 130.0;
    text(out, x0, y - 12, "verdicts: align (blue), leave (gold), unsure (grey)", "class='small'");
    for (const auto& tier : scores)
    {
        text(out, x0 + reliabilitySize - barWidth - 8, y + 11, tier.tier, "text-anchor='end' class='small'");
        double x = x0 + reliabilitySize - barWidth;
        for (const auto& [count, colour] :
             {std::pair{tier.align, "#0a5fa8"}, {tier.leave, "#e0a526"}, {tier.unsure, "#bbbbbb"}})
        {
            const double share = barWidth * count / tier.scenes;
            out << "<rect x='" << x << "' y='" << y << "' width='" << share << "' height='13' fill='" << colour
                << "'/>\n";
            x += share;
        }
        y += 18.0;
    }
}
} // namespace

void drawRun(const std::filesystem::path& file, const std::string& title, const std::vector<Outcome>& outcomes,
             const std::vector<TierScore>& scores, const Calibration& calibration)
{
    std::ofstream out(file);
    if (!out) throw std::runtime_error(file.string() + ": cannot be written");
    const auto tiers = static_cast<double>(scores.size());
    const double height = top + std::max(rowHeight * tiers, reliabilitySize + 130.0 + 18.0 * tiers) + 60.0;
    out << "<svg xmlns='http://www.w3.org/2000/svg' width='" << width << "' height='" << height << "' viewBox='0 0 "
        << width << ' ' << height
        << "'>\n<style>text { font: 13px sans-serif; fill: #222222 } .small { font-size: 11px; fill: #555555 }"
        << " .title { font-size: 18px }</style>\n<rect width='100%' height='100%' fill='white'/>\n";
    text(out, 20, 32, title, "class='title'");
    double x = left;
    for (const auto& method : shown)
    {
        out << "<circle cx='" << x << "' cy='62' r='5' fill='" << method.colour << "'/>\n";
        text(out, x + 10, 66, method.name, "");
        x += 150.0;
    }
    drawErrors(out, outcomes, scores);
    drawReliability(out, calibration);
    drawVerdicts(out, scores);
    out << "</svg>\n";
    if (!out.flush()) throw std::runtime_error(file.string() + ": cannot be written to the end");
}
} // namespace tarry::bench
