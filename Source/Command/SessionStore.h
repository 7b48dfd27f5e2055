#pragma once
#include "Command/SessionTake.h"

#include <filesystem>

namespace tarry::command
{
/// Work that is done, kept in a folder so that a session can go on where it was stopped, and shards can hand over
/// theirs. Each piece lies under a key that follows from all it was made of: what has changed is not found. Safe to
/// use from several threads and processes at once. Throws OutputError where it cannot write.
class SessionStore
{
public:
    explicit SessionStore(std::filesystem::path workFolder);

    [[nodiscard]] std::optional<MeasuredTake> take(const std::string& key) const;
    void keep(const std::string& key, const TakeWork& work) const;
    [[nodiscard]] std::vector<Hit> hits(const std::string& key) const; ///< empty where they are gone

    /// Small texts by name: what a setup found, what was printed.
    [[nodiscard]] std::optional<std::string> text(const std::string& name) const;
    void keepText(const std::string& name, const std::string& text) const;

    /// Forgets everything.
    void clear() const;

private:
    std::filesystem::path folder;
};
} // namespace tarry::command
