#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

struct sf_private_tag; // libsndfile's own
struct SF_VIRTUAL_IO;

namespace tarry
{
/// An open file that libsndfile reads, or writes through a buffer of ours. libsndfile takes a read that fails for the
/// file's end, and forgets errors of its last writes (of a FLAC encoder's, of a header written again on closing); this
/// remembers the first one of all.
class SoundStream
{
public:
    /// Of a file that is open for writing, and stays so.
    explicit SoundStream(int descriptor);
    /// Opens a file for reading; `error` says whether that went well.
    explicit SoundStream(const std::filesystem::path& file);
    ~SoundStream();
    SoundStream(const SoundStream&) = delete;
    SoundStream& operator=(const SoundStream&) = delete;
    SoundStream(SoundStream&&) = delete;
    SoundStream& operator=(SoundStream&&) = delete;

    /// For sf_open_virtual, with this as its user data.
    static SF_VIRTUAL_IO calls();

    /// Writes what the buffer still holds. Returns 0, or the errno of the first write that failed, now or before.
    [[nodiscard]] int flush() noexcept;
    [[nodiscard]] int error() const noexcept { return firstError; }

private:
    std::int64_t seek(std::int64_t offset, int whence) noexcept;
    std::int64_t read(char* to, std::int64_t count) noexcept;
    std::int64_t write(const char* from, std::int64_t count) noexcept;
    [[nodiscard]] std::int64_t length() noexcept;

    int file;
    bool owned = false;
    int firstError = 0;
    std::vector<char> buffer; ///< bytes to be written at `start`
    std::size_t filled = 0;
    std::int64_t start = 0;
};
} // namespace tarry
