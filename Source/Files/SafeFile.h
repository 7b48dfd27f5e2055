#pragma once
#include "Files/Errors.h"

#include <filesystem>
#include <string>
#include <vector>

namespace tarry
{
/// "(No space left on device): make room, or choose another folder": the end of a line about a file that could not be
/// written. error: the system's number.
[[nodiscard]] std::string whyAndWhatToDo(int error);

/// What becomes of a file that is there already.
enum class Existing
{
    replace,
    refuse
};

/// A file that appears whole or not at all: written beside its place under a name that nobody can guess, flushed to the
/// disk and moved there by `commit`, and removed when that does not come to pass, also when the program is interrupted.
/// What a killed program left in that folder is removed by the next SafeFile there: a lock on each says whose writer
/// still lives, on whatever machine.
class SafeFile
{
public:
    /// Makes the temporary file; throws OutputError where `target` cannot be a file.
    explicit SafeFile(std::filesystem::path target, Existing existing = Existing::replace);
    ~SafeFile();
    SafeFile(const SafeFile&) = delete;
    SafeFile& operator=(const SafeFile&) = delete;
    SafeFile(SafeFile&&) = delete;
    SafeFile& operator=(SafeFile&&) = delete;

    /// Where to write for now, and the open file there.
    [[nodiscard]] const std::filesystem::path& temporary() const { return written; }
    [[nodiscard]] int descriptor() const { return open; }
    [[nodiscard]] const std::filesystem::path& target() const { return wanted; }

    /// Puts the finished file in its place, with the mode and the owner of what it replaces. Throws OutputError.
    void commit();

private:
    void lookAtTarget();
    void create();
    void move();

    std::filesystem::path wanted, folder, written;
    Existing existing;
    bool replaces = false;
    int open = -1;
    std::size_t pendingSlot = 0;
};

/// Writes a small text file, whole or not at all. Pipes and devices are written to directly. Throws OutputError.
void writeTextFile(const std::filesystem::path& target, const std::string& text, Existing existing = Existing::replace);

/// Throws InputError where `output` is one of the inputs, by whatever path, symbolic or hard link.
void refuseToOverwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs);

/// Makes the program remove its half-written files when it is interrupted (SIGINT, SIGTERM, SIGHUP), and turns a file
/// that grows too large into an error. For a program's main only.
void cleanUpOnSignals();
} // namespace tarry
