#pragma once

#include <cstdint>
#include <string>

namespace tarry::command
{
/// A bar on standard error while a long file is worked through: only on a terminal, and gone afterwards.
class Progress
{
public:
    /// `frames` in all, at `sampleRate` Hz. Files of less than half a minute get no bar.
    Progress(std::string label, std::int64_t frames, int sampleRate);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    Progress(Progress&&) = delete;
    Progress& operator=(Progress&&) = delete;

    void at(std::int64_t frame);

private:
    std::string label;
    std::int64_t total;
    int shown = -1; ///< percent; -1: nothing drawn yet
    bool visible;
};
} // namespace tarry::command
