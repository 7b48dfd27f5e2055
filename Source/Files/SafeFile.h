#pragma once
#include "Files/Errors.h"

#include <filesystem>
#include <string>
#include <vector>

namespace tarry
{
/// A file that appears whole or not at all: written beside its place under another name, moved there by `commit`, and
/// removed when that does not come to pass, also when the program is interrupted.
class SafeFile
{
public:
    /// Checks that `target` can be a file; throws OutputError. Creates nothing yet.
    explicit SafeFile(std::filesystem::path target);
    ~SafeFile();
    SafeFile(const SafeFile&) = delete;
    SafeFile& operator=(const SafeFile&) = delete;
    SafeFile(SafeFile&&) = delete;
    SafeFile& operator=(SafeFile&&) = delete;

    /// Where to write for now.
    [[nodiscard]] const std::filesystem::path& temporary() const { return written; }
    [[nodiscard]] const std::filesystem::path& target() const { return wanted; }

    /// Puts the finished file in its place. Throws OutputError.
    void commit();

private:
    std::filesystem::path wanted, written;
    bool done = false;
};

/// Writes a small text file, whole or not at all. Pipes and devices are written to directly. Throws OutputError.
void writeTextFile(const std::filesystem::path& target, const std::string& text);

/// Throws InputError where `output` is one of the inputs, by whatever path, symbolic or hard link.
void refuseToOverwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs);

/// Makes the program remove its half-written file when it is interrupted (SIGINT, SIGTERM, SIGHUP), and turns a file
/// that grows too large into an error. For a program's main only.
void cleanUpOnSignals();
} // namespace tarry
