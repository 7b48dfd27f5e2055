#pragma once
#include "Outcome.h"

#include <filesystem>
#include <functional>

namespace tarry::bench
{
/// Keeps scenes on disk, because making one takes far longer than measuring it. A family's lie in a folder that is
/// named after what the code that makes them looked like (see CMakeLists.txt), so a changed hall never meets old
/// scenes; the rivals' answers beside them, named after the rivals' code.
class Cache
{
public:
    /// folder: where to keep them; empty: nowhere.
    explicit Cache(std::filesystem::path folder) : root(std::move(folder)) {}

    /// The kept example of this key (tier, seed and rate: it becomes a file name), or what `make` makes, kept. Several
    /// threads, one key each. Throws std::runtime_error.
    [[nodiscard]] Example get(const std::string& family, const std::string& key,
                              const std::function<Example()>& make) const;

    /// The same for the rivals' answers.
    [[nodiscard]] RivalAnswers rivals(const std::string& key, const Example& example) const;

private:
    std::filesystem::path root;
};
} // namespace tarry::bench
