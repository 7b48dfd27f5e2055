// Any text as a recall line: read, or refused in one line. What was read writes as a line that reads as the same.
#include "Core/Controls/RecallLine.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    try
    {
        const auto recall = tarry::readRecallLine({reinterpret_cast<const char*>(data), size});
        if (recall.held)
            for (const auto& side : recall.held->side)
                if (!std::isfinite(side.lag)) std::abort();
        const auto written = tarry::writeRecallLine(recall);
        if (written.find('\n') != std::string::npos) std::abort();
        try
        {
            if (tarry::writeRecallLine(tarry::readRecallLine(written)) != written) std::abort();
        }
        catch (const tarry::RecallError&)
        {
            std::abort(); // its own line
        }
    }
    catch (const tarry::RecallError& problem)
    {
        if (std::string(problem.what()).find('\n') != std::string::npos) std::abort();
    }
    return 0;
}
