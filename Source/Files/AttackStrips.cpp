#include "Files/AttackStrips.h"

#include "Core/Ground/Text.h"
#include "Files/Markup.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tarry
{
namespace
{
// px of the drawing
constexpr int width = 320, left = 66, step = 2, strip = 40, top = 6;
constexpr std::size_t drawn = 124; ///< columns: more cannot be seen, and would make the page heavy
constexpr int right = left + step * static_cast<int>(drawn);

/// A column as drawn: px above and below the strip's middle.
struct Column
{
    int up = 0, down = 0;
};

/// The picture's columns, brought to as many as are drawn, the loudest sample as high as the strip allows.
std::vector<Column> columnsOf(const Envelope& envelope)
{
    const std::size_t given = std::min(envelope.low.size(), envelope.high.size());
    if (given == 0) return {};
    double peak = 1e-9;
    for (std::size_t i = 0; i < given; ++i)
        peak = std::max({peak, std::abs(envelope.low[i]), std::abs(envelope.high[i])});
    const double scale = (strip / 2 - 1) / peak;
    std::vector<Column> columns(drawn);
    for (std::size_t j = 0; j < drawn; ++j)
        for (std::size_t i = j * given / drawn; i < std::max((j + 1) * given / drawn, j * given / drawn + 1); ++i)
        {
            Column& column = columns[j];
            column.up = std::max(column.up, static_cast<int>(std::lround(envelope.high[i] * scale)));
            column.down = std::max(column.down, static_cast<int>(std::lround(-envelope.low[i] * scale)));
        }
    return columns;
}

/// A run of relative steps, level ones joined: what keeps a page of 500 drawings small.
class Steps
{
public:
    void by(int dx, int dy)
    {
        if (dy == 0)
        {
            level += dx;
            return;
        }
        flush();
        path += 'l';
        path.append(std::to_string(dx)).append(dy < 0 ? "" : " ").append(std::to_string(dy));
    }
    void flush()
    {
        if (level != 0) path.append("h").append(std::to_string(level));
        level = 0;
    }

    std::string path;

private:
    int level = 0;
};

std::string outline(const Envelope& envelope, int middle, const char* kind)
{
    const auto columns = columnsOf(envelope);
    if (columns.empty()) return {};
    Steps steps;
    int y = 0;
    const auto to = [&](int dx, int wanted)
    {
        steps.by(dx, wanted - y);
        y = wanted;
    };
    for (std::size_t i = 0; i < columns.size(); ++i) to(i == 0 ? 0 : step, -columns[i].up);
    for (std::size_t i = columns.size(); i-- > 0;) to(i + 1 == columns.size() ? 0 : -step, columns[i].down);
    steps.flush();
    return "<path class=\"" + std::string(kind) + "\" d=\"M" + std::to_string(left) + " " + std::to_string(middle) +
           steps.path + "z\"/>";
}

std::string text(int x, int y, const std::string& words, const char* more = "")
{
    return "<text x=\"" + std::to_string(x) + "\" y=\"" + std::to_string(y) + "\"" + more + ">" + escaped(words) +
           "</text>";
}
} // namespace

std::string attackStrips(const AttackPicture& attack, double lag, const std::string& words)
{
    const auto count = static_cast<double>(attack.room.low.size());
    if (count < 1.0 || !(attack.step > 0.0)) return {};
    const double seconds = attack.step * count;
    const auto x = [&](double time) { return left + (time - attack.start) / seconds * (right - left); };
    const auto middle = [](int which) { return top + strip / 2 + which * (strip + 4); };
    const int bottom = middle(2) + strip / 2 + 2;

    std::string svg = "<svg viewBox=\"0 0 " + std::to_string(width) + " " + std::to_string(bottom + 18) +
                      "\" role=\"img\" aria-label=\"" + escaped(words) + "\">";
    svg += outline(attack.spotAsRecorded, middle(0), "spot") + outline(attack.room, middle(1), "room") +
           outline(attack.spotAligned, middle(2), "spot");
    const auto upright = [&](double time, int from, int to)
    {
        return time < attack.start || time > attack.start + seconds
                   ? std::string()
                   : "<path class=\"at\" d=\"M" + fixed(x(time), 1) + " " + std::to_string(from) + "V" +
                         std::to_string(to) + "\"/>";
    };
    svg += upright(0.0, top, middle(0) + strip / 2) + upright(lag, middle(0) + strip / 2 + 2, bottom);
    svg += text(2, middle(0) - 3, "spot as") + text(2, middle(0) + 11, "recorded") + text(2, middle(1) + 4, "room") +
           text(2, middle(2) - 3, "spot") + text(2, middle(2) + 11, "aligned");
    svg += "<path class=\"axis\" d=\"M" + std::to_string(left) + " " + std::to_string(bottom) + "H" +
           std::to_string(right) + "\"/>";
    // Four or five marks at whole tens of ms, or fives where the stretch is short.
    const double every = seconds > 0.1 ? 0.02 : seconds > 0.045 ? 0.01 : 0.005;
    for (double time = std::ceil(attack.start / every) * every; time < attack.start + seconds - 0.2 * every;
         time += every)
        svg += text(static_cast<int>(std::lround(x(time))), bottom + 14, fixed(1e3 * time, 0),
                    " class=\"dim\" text-anchor=\"middle\"");
    return svg + text(2, bottom + 14, "ms", " class=\"dim\"") + "</svg>";
}
} // namespace tarry
