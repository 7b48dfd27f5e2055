#pragma once
#include <map>
#include <mutex>
#include <string>

namespace tarry
{
/// Texts by key, shared by threads that may wait.
class TextMap
{
public:
    using Texts = std::map<std::string, std::string>;

    [[nodiscard]] Texts all() const
    {
        const std::scoped_lock guard(lock);
        return texts;
    }
    void replace(const Texts& wanted)
    {
        const std::scoped_lock guard(lock);
        texts = wanted;
    }
    /// Empty where there is none.
    [[nodiscard]] std::string get(const std::string& key) const
    {
        const std::scoped_lock guard(lock);
        const auto found = texts.find(key);
        return found == texts.end() ? std::string() : found->second;
    }
    void set(const std::string& key, const std::string& value)
    {
        const std::scoped_lock guard(lock);
        texts[key] = value;
    }

private:
    mutable std::mutex lock;
    Texts texts;
};
} // namespace tarry
