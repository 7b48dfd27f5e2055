#pragma once

#include <string>

namespace tarry::command
{
/// A bar on standard error while a long file is worked through: only on a terminal, and gone afterwards.
class Progress
{
public:
    explicit Progress(std::string label);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    Progress(Progress&&) = delete;
    Progress& operator=(Progress&&) = delete;

    /// Files of less than half a minute get no bar.
    void at(double seconds, double ofSeconds);

private:
    std::string label;
    int shown = -1; ///< percent; -1: nothing drawn yet
    bool visible;
};
} // namespace tarry::command
