#include "Standalone/Printing.h"

#include "Core/Delay/Delay.h"
#include "Core/Ground/Text.h"
#include "Files/Measurement.h"
#include "Files/PrintFile.h"
#include "Files/SafeFile.h"

#include <cmath>

namespace tarry::standalone
{
namespace
{
std::string moved(double samples, const Alignment& side, int sampleRate)
{
    return fixed(std::abs(samples) / sampleRate * 1e3, 3) + " ms " + (samples < 0.0 ? "earlier" : "later") +
           ", polarity " + nameOf(side.polarity);
}
} // namespace

std::optional<PrintOrder> orderFrom(const Processor& processor)
{
    const auto held = processor.engine().held();
    if (!held) return std::nullopt;
    const auto controls = processor.parameters.controls();
    PrintOrder order;
    order.sides = leaned(*held, controls.lean);
    order.wholeSamples = controls.wholeSamples;
    order.lookAhead = processor.setup().lookAhead;
    return order;
}

std::string print(const PrintOrder& order)
{
    std::vector<std::filesystem::path> inputs{order.spot};
    if (!order.room.empty()) inputs.push_back(order.room);
    refuseToOverwrite(order.output, inputs);

    AudioReader spot(order.spot, maxSpotChannels);
    const auto channels = static_cast<std::size_t>(spot.info().channels);
    PrintJob job;
    job.sides.assign(order.sides.side.begin(), order.sides.side.begin() + static_cast<std::ptrdiff_t>(channels));
    job.wholeSamples = order.wholeSamples;
    job.lookAhead = order.lookAhead;
    const auto result = printFile(spot, order.output, job);

    const int rate = spot.info().sampleRate;
    std::string said = "Printed " + order.output.filename().string() + ": ";
    if (channels == 1 || (result.heard[0] == result.heard[1] && job.sides[0] == job.sides[1]))
        said += moved(result.heard[0], job.sides[0], rate);
    else
        said += "left " + moved(result.heard[0], job.sides[0], rate) + "; right " +
                moved(result.heard[1], job.sides[1], rate);
    if (result.clipped > 0)
        return said + ". " + std::to_string(result.clipped) + " samples held at full scale: lower the spot.";
    return said + ".";
}
} // namespace tarry::standalone
