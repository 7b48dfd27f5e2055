#include "Files/KeptChunks.h"

#include "Files/ChunkReader.h"

#include <algorithm>
#include <string_view>

namespace tarry
{
namespace
{
constexpr std::uint64_t largest = 4U << 20U; // bytes: what is larger is no note beside the sound

bool isKept(std::string_view name, bool aiff)
{
    constexpr std::string_view ofWav[] = {"bext", "iXML", "axml", "cue ", "LIST", "plst", "smpl", "inst"};
    constexpr std::string_view ofAiff[] = {"MARK", "COMT", "INST", "NAME", "AUTH", "(c) ", "ANNO"};
    return aiff ? std::find(std::begin(ofAiff), std::end(ofAiff), name) != std::end(ofAiff)
                : std::find(std::begin(ofWav), std::end(ofWav), name) != std::end(ofWav);
}

void setElement(std::string& xml, std::string_view name, std::uint64_t value)
{
    const auto tag = [name](std::string opening) { return opening.append(name).append(">"); };
    const std::string begin = tag("<"), end = tag("</");
    for (std::size_t at = xml.find(begin); at != std::string::npos; at = xml.find(begin, at + 1))
    {
        const auto from = at + begin.size(), to = xml.find(end, from);
        if (to == std::string::npos) return;
        xml.replace(from, to - from, std::to_string(value));
    }
}
} // namespace

std::vector<KeptChunk> keptChunksOf(const std::filesystem::path& file)
{
    ChunkReader reader(file);
    if (reader.isAt(0, "RIFX")) return {}; // its numbers lie the other way round
    const bool aiff = reader.isAt(0, "FORM");
    std::vector<KeptChunk> kept;
    for (const auto& chunk : reader.chunks())
        if (isKept(chunk.name, aiff) && chunk.size > 0 && chunk.size <= largest &&
            chunk.place + chunk.size <= reader.length())
            kept.push_back({chunk.name, reader.bytes(chunk.place, static_cast<std::size_t>(chunk.size))});
    return kept;
}

void fillUpToFour(KeptChunk& chunk)
{
    std::string& bytes = chunk.bytes;
    const bool xml = chunk.name == "iXML" || chunk.name == "axml";
    const std::size_t missing = (4 - bytes.size() % 4) % 4;
    if (xml) bytes.append(missing, '\n');
    if (chunk.name != "LIST" || missing == 0) return;
    const auto sizeAt = [&bytes](std::size_t place)
    {
        std::size_t size = 0;
        for (std::size_t i = 4; i-- > 0;) size = size << 8 | static_cast<unsigned char>(bytes[place + 4 + i]);
        return size;
    };
    // The last entry, a text that ends with a zero, gets more of them.
    std::size_t last = 4;
    for (std::size_t next = last; next + 8 <= bytes.size(); next += 8 + sizeAt(next) + sizeAt(next) % 2) last = next;
    bytes.append(missing, '\0');
    if (last + 8 > bytes.size()) return;
    const std::size_t size = bytes.size() - last - 8;
    for (std::size_t i = 0; i < 4; ++i) bytes[last + 4 + i] = static_cast<char>(size >> (8 * i) & 0xFF);
}

void setTimeReferenceInIxml(std::string& ixml, std::uint64_t samples)
{
    const std::uint64_t low = samples & 0xFFFFFFFF, high = samples >> 32;
    setElement(ixml, "TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO", low);
    setElement(ixml, "TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_HI", high);
    setElement(ixml, "BWF_TIME_REFERENCE_LOW", low);
    setElement(ixml, "BWF_TIME_REFERENCE_HIGH", high);
}
} // namespace tarry
