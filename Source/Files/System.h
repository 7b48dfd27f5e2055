#pragma once
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string_view>

/// What is asked in one way on Windows and in another elsewhere, and nothing else.
namespace tarry::system
{
/// Whether standard error is a terminal that somebody may be looking at.
bool errorsAreSeen();

/// Removes a file from within a signal handler, where only few calls are allowed; `file` ends with 0.
void removeFromSignal(const std::filesystem::path::value_type* file) noexcept;

/// Has `handle` called when the program is interrupted or its terminal goes away; a file that grows past the limit
/// becomes an error of the write instead of a signal.
void onInterruption(void (*handle)(int signalNumber));

// Files. Where it says so, 0 or errno is returned; descriptors are the C library's.

/// Makes a new file that nobody else writes, locked until it is closed; `hidden`: nobody else may read it either. It
/// never follows a link. Returns its descriptor, or -1 with errno set.
int createLocked(const std::filesystem::path& file, bool hidden);

/// Removes a file that this user owns and no living program has locked, here or on another machine.
void removeIfUnlocked(const std::filesystem::path& file);

/// Closes and removes.
void discard(int descriptor, const std::filesystem::path& file) noexcept;
void close(int descriptor) noexcept;

/// Gives an open file the mode and, as far as this user may, the owner and group of another. 0 or errno.
[[nodiscard]] int keepModeAndOwner(int descriptor, const std::filesystem::path& other);

/// Puts a file, or what a folder says of its files, on the disk. 0 or errno.
[[nodiscard]] int flush(int descriptor);
[[nodiscard]] int flushFolder(const std::filesystem::path& folder);

/// Moves in one step: over what is there, or only where nothing is (EEXIST). 0 or errno.
[[nodiscard]] int moveOver(const std::filesystem::path& from, const std::filesystem::path& to);
[[nodiscard]] int moveToFreePlace(const std::filesystem::path& from, const std::filesystem::path& to);

/// Writes all bytes where the file is now. 0 or errno.
[[nodiscard]] int write(int descriptor, std::string_view bytes) noexcept;
[[nodiscard]] int writeToDevice(const std::filesystem::path& device, std::string_view bytes);
/// Where to write or read next, from the start. 0 or errno.
[[nodiscard]] int seek(int descriptor, std::int64_t place) noexcept;
/// Opens a file that is there. Returns its descriptor, or -1 with errno set.
int openToRead(const std::filesystem::path& file);
/// Returns how many bytes were read, 0 at the end, -1 with errno set on errors.
std::int64_t read(int descriptor, char* to, std::int64_t count) noexcept;
[[nodiscard]] std::int64_t sizeOf(int descriptor) noexcept;

/// The longest name that a file in that folder can have.
[[nodiscard]] std::size_t longestName(const std::filesystem::path& folder);
} // namespace tarry::system
