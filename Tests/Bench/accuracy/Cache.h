#pragma once
#include "Trial.h"

#include <filesystem>
#include <functional>

namespace tarry::bench
{
/// Keeps scenes on disk, because making one takes far longer than measuring it. They lie in a folder that is named
/// after what the code that makes them looked like (see CMakeLists.txt), so a changed hall never meets old scenes.
class Cache
{
public:
    /// root: where to keep them; empty: nowhere.
    explicit Cache(const std::filesystem::path& root);

    /// The kept trial of this key (tier, seed and rate: it becomes a file name), or what `make` makes, kept. Several
    /// threads, one key each. Throws std::runtime_error.
    [[nodiscard]] Trial get(const std::string& key, const std::function<Trial()>& make) const;

private:
    std::filesystem::path folder;
};
} // namespace tarry::bench
