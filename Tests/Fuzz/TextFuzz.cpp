// Any text where Tarry reads text: numbers, names of room channels, iXML. What is read is in range, or refused.
#include "Core/Ground/Text.h"
#include "Files/Errors.h"
#include "Files/KeptChunks.h"
#include "Files/Measurement.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    std::string text(size, '\0');
    for (std::size_t i = 0; i < size; ++i) text[i] = static_cast<char>(data[i]);

    if (const auto number = tarry::readNumber(text))
    {
        if (!std::isfinite(*number)) std::abort();
        const auto again = tarry::readNumber(tarry::fixed(*number, 9));
        if (!again || (std::abs(*number) < 1e6 && std::abs(*again - *number) > 1e-9)) std::abort();
    }
    for (const char c : tarry::quoted(text))
        if (c < ' ' || c > '~') std::abort();

    tarry::AudioInfo room;
    room.channels = 3;
    try
    {
        const int channel = tarry::roomChannelOf(text, room);
        if (channel < -1 || channel > 2) std::abort();
    }
    catch (const tarry::InputError&)
    {
    }
    tarry::setTimeReferenceInIxml(text, 1);
    return 0;
}
