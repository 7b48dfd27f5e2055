#include "Host/PluginState.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <cctype>
#include <functional>
#include <sstream>
#include <stdexcept>
#include <string>

namespace tarry::host
{
namespace
{
/// Where the blob's text holds something in JUCE's base64 ("size.characters").
std::optional<juce::MemoryBlock> decode(const std::string& text)
{
    juce::MemoryBlock inner;
    if (!inner.fromBase64Encoding(text)) return std::nullopt;
    return inner;
}

std::string asText(const juce::MemoryBlock& block)
{
    return {static_cast<const char*>(block.getData()), block.getSize()};
}

/// The plugin's JSON at the start of a wrapper's block; a wrapper may append something of its own. Second: its length.
std::optional<std::pair<nlohmann::json, std::size_t>> readJson(const std::string& text)
{
    if (text.empty() || text.front() != '{') return std::nullopt;
    std::istringstream stream(text);
    nlohmann::json found;
    try
    {
        stream >> found;
    }
    catch (const nlohmann::json::exception&)
    {
        return std::nullopt;
    }
    if (!found.contains("tarry_state")) return std::nullopt;
    const auto end = stream.tellg();
    return std::pair{found, end < 0 ? text.size() : static_cast<std::size_t>(end)};
}

/// Calls `change` with each base64 passage of the blob, and puts back what it gives.
juce::MemoryBlock visit(const juce::MemoryBlock& blob, const std::function<std::string(const std::string&)>& change)
{
    if (auto xml = juce::AudioProcessor::getXmlFromBinary(blob.getData(), static_cast<int>(blob.getSize())))
    {
        for (auto* child : xml->getChildIterator())
            if (auto* words = child->getFirstChildElement(); words != nullptr && words->isTextElement())
                words->setText(change(words->getText().toStdString()));
        juce::MemoryBlock result;
        juce::AudioProcessor::copyXmlToBinary(*xml, result);
        return result;
    }
    // Quoted passages by hand: a regular expression of the standard library runs out of stack on a state of 70 kB.
    const std::string text = asText(blob);
    std::string result;
    std::size_t at = 0;
    while (at < text.size())
    {
        const auto open = text.find('"', at);
        const auto close = open == std::string::npos ? open : text.find('"', open + 1);
        if (close == std::string::npos) break;
        const std::string passage = text.substr(open + 1, close - open - 1);
        result += text.substr(at, open + 1 - at);
        const bool isCoded = passage.size() > 9 && std::isdigit(static_cast<unsigned char>(passage.front())) != 0 &&
                             passage.find('.') != std::string::npos;
        if (isCoded)
        {
            result += change(passage) + '"';
            at = close + 1;
        }
        else
            at = open + 1;
    }
    result += text.substr(at);
    return {result.data(), result.size()};
}
} // namespace

std::optional<nlohmann::json> readPluginState(const juce::MemoryBlock& blob)
{
    std::optional<nlohmann::json> found;
    (void)visit(blob,
                [&found](const std::string& passage)
                {
                    if (const auto inner = decode(passage))
                        if (const auto json = readJson(asText(*inner))) found = json->first;
                    return passage;
                });
    return found;
}

juce::MemoryBlock mergePluginState(const juce::MemoryBlock& blob, const nlohmann::json& patch)
{
    bool merged = false;
    auto result = visit(blob,
                        [&](const std::string& passage)
                        {
                            const auto inner = decode(passage);
                            if (!inner) return passage;
                            const auto text = asText(*inner);
                            auto json = readJson(text);
                            if (!json) return passage;
                            json->first.merge_patch(patch);
                            merged = true;
                            const auto changed = json->first.dump() + text.substr(json->second);
                            return juce::MemoryBlock(changed.data(), changed.size()).toBase64Encoding().toStdString();
                        });
    if (!merged) throw std::runtime_error("the plugin's state is not in the host's blob");
    return result;
}
} // namespace tarry::host
