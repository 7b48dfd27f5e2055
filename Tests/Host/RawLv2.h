#pragma once
#include "Host/RawPlugin.h"

#include <map>

namespace tarry::host
{
/// The built .lv2 bundle through the format's own interface. Its layout is fixed: a stereo spot, a stereo room.
class RawLv2 : public RawPlugin
{
public:
    /// What the plugin has told of its parameters, by their ids, since the last call: the host's copy follows this.
    [[nodiscard]] virtual std::map<std::string, double> takeTold() = 0;
    /// The port `enabled`: off is bypass. [audio]
    virtual void setEnabled(bool on) = 0;
    [[nodiscard]] virtual double latency() const = 0;
};

/// @throws std::runtime_error where it cannot be loaded
[[nodiscard]] std::unique_ptr<RawLv2> loadRawLv2(const std::string& bundle, const std::string& uri);
} // namespace tarry::host
