#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

namespace tarry
{
/// A file that cannot be read, or one that should not be used as it was asked for. The text is one line that names the
/// file and says what to do.
class InputError : public std::runtime_error
{
public:
    explicit InputError(const std::string& line) : std::runtime_error(line) {}
    InputError(const std::filesystem::path& file, const std::string& what)
        : std::runtime_error(file.string() + ": " + what)
    {
    }
};

/// A file that could not be written. The text is one line that names the file and says what to do.
class OutputError : public std::runtime_error
{
public:
    OutputError(const std::filesystem::path& file, const std::string& what)
        : std::runtime_error(file.string() + ": " + what)
    {
    }
};

/// What could be done and had better not be, until somebody insists. The text is one line that says what and how.
class NotAdvised : public std::runtime_error
{
public:
    NotAdvised(const std::filesystem::path& file, const std::string& what)
        : std::runtime_error(file.string() + ": " + what)
    {
    }
};
} // namespace tarry
