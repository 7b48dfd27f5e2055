#include "Files/SoundStream.h"

#include "Files/System.h"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <sndfile.h>

namespace tarry
{
namespace
{
constexpr std::size_t bufferSize = 256 * 1024; // bytes
} // namespace

SoundStream::SoundStream(int descriptor) : file(descriptor), buffer(bufferSize) {}

SoundStream::SoundStream(const std::filesystem::path& name) : file(system::openToRead(name)), owned(true)
{
    if (file < 0) firstError = errno;
}

SoundStream::~SoundStream()
{
    if (owned && file >= 0) system::close(file);
}

SF_VIRTUAL_IO SoundStream::calls()
{
    static constexpr auto of = [](void* data) -> SoundStream& { return *static_cast<SoundStream*>(data); };
    SF_VIRTUAL_IO io{};
    io.get_filelen = [](void* data) -> sf_count_t { return of(data).length(); };
    io.seek = [](sf_count_t offset, int whence, void* data) -> sf_count_t { return of(data).seek(offset, whence); };
    io.read = [](void* to, sf_count_t count, void* data) -> sf_count_t
    { return of(data).read(static_cast<char*>(to), count); };
    io.write = [](const void* from, sf_count_t count, void* data) -> sf_count_t
    { return of(data).write(static_cast<const char*>(from), count); };
    io.tell = [](void* data) -> sf_count_t
    {
        const SoundStream& stream = of(data);
        return stream.start + static_cast<std::int64_t>(stream.filled);
    };
    return io;
}

int SoundStream::flush() noexcept
{
    if (filled > 0 && firstError == 0)
    {
        firstError = system::seek(file, start);
        if (firstError == 0) firstError = system::write(file, {buffer.data(), filled});
    }
    start += static_cast<std::int64_t>(filled);
    filled = 0;
    return firstError;
}

std::int64_t SoundStream::length() noexcept
{
    return std::max(system::sizeOf(file), start + static_cast<std::int64_t>(filled));
}

std::int64_t SoundStream::seek(std::int64_t offset, int whence) noexcept
{
    const std::int64_t end = length(), now = start + static_cast<std::int64_t>(filled);
    const std::int64_t wanted = whence == SEEK_SET ? offset : whence == SEEK_CUR ? now + offset : end + offset;
    if (wanted == now) return now;
    (void)flush();
    start = wanted;
    return wanted;
}

std::int64_t SoundStream::read(char* to, std::int64_t count) noexcept
{
    if (flush() != 0) return 0;
    firstError = system::seek(file, start);
    const auto got = firstError == 0 ? system::read(file, to, count) : 0;
    if (got < 0) firstError = errno;
    if (got <= 0) return 0;
    start += got;
    return got;
}

std::int64_t SoundStream::write(const char* from, std::int64_t count) noexcept
{
    for (std::int64_t done = 0; done < count;)
    {
        const auto fits = std::min<std::int64_t>(count - done, static_cast<std::int64_t>(buffer.size() - filled));
        std::copy_n(from + done, fits, buffer.data() + filled);
        filled += static_cast<std::size_t>(fits);
        done += fits;
        if (filled == buffer.size() && flush() != 0) return 0;
    }
    return firstError == 0 ? count : 0;
}
} // namespace tarry
