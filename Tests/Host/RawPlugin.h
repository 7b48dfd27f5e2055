#pragma once
#include <memory>
#include <string>
#include <vector>

namespace tarry::host
{
/// A plugin's binary, entered as its format says. [host]
class RawPlugin
{
public:
    virtual ~RawPlugin() = default;

    /// False where the plugin refuses this. Not while it is active.
    virtual bool start(double sampleRate, int maxFrames, int spotChannels, int roomChannels) = 0;
    virtual void stop() = 0;

    /// The spot in place; the room is read. frames may be 0. [audio]
    virtual void process(float* const* spot, const float* const* room, int frames) = 0;

    [[nodiscard]] virtual int parameterCount() const = 0;
    /// Where the setting of this id stands among them. Throws std::out_of_range where it does not.
    [[nodiscard]] virtual int parameterOf(const std::string& id) const = 0;
    /// To be sent with the next block, 0 to 1. [audio]
    virtual void automate(int parameter, double value) = 0;

    [[nodiscard]] virtual std::string state() = 0;
    virtual bool setState(const std::string& blob) = 0;
    /// The plugin's own text, wrapped as the format's state is.
    [[nodiscard]] virtual std::string wrapped(const std::string& own) const = 0;
};
} // namespace tarry::host
