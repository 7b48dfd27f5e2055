#include "Files/AudioWriter.h"

#include "Files/OpenSound.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace tarry
{
namespace
{
/// A WAV counts its bytes in 32 bits; some room is left for the other chunks.
constexpr std::int64_t largestWav = 0xFFFFFFFF - 0x100000;

int containerFor(const std::filesystem::path& file, const AudioInfo& like, std::int64_t frames)
{
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
    const int present = like.format & SF_FORMAT_TYPEMASK;
    const bool isWav = present == SF_FORMAT_WAV || present == SF_FORMAT_WAVEX || present == SF_FORMAT_RF64;
    int container = present;
    if (ending == ".wav" && !isWav) container = SF_FORMAT_WAV;
    if (ending == ".w64") container = SF_FORMAT_W64;
    if (ending == ".rf64") container = SF_FORMAT_RF64;
    if (ending == ".aif" || ending == ".aiff") container = SF_FORMAT_AIFF;
    if (ending == ".flac") container = SF_FORMAT_FLAC;

    const bool fits = frames * like.channels * (like.bits() / 8) < largestWav;
    if ((container == SF_FORMAT_WAV || container == SF_FORMAT_WAVEX) && !fits) container = SF_FORMAT_RF64;
    return container;
}

/// The format of `like` in another container; byte order and the sign of 8-bit samples are the container's matter.
int formatIn(int container, const AudioInfo& like)
{
    int samples = like.format & SF_FORMAT_SUBMASK;
    if (container == (like.format & SF_FORMAT_TYPEMASK)) return container | samples | (like.format & SF_FORMAT_ENDMASK);
    const bool isUnsigned = container == SF_FORMAT_WAV || container == SF_FORMAT_W64 || container == SF_FORMAT_RF64;
    if (like.bits() == 8) samples = isUnsigned ? SF_FORMAT_PCM_U8 : SF_FORMAT_PCM_S8;
    return container | samples;
}
} // namespace

void AudioWriter::Closer::operator()(sf_private_tag* open) const noexcept
{
    sf_close(open);
}

AudioWriter::AudioWriter(const std::filesystem::path& file, const AudioInfo& like, std::int64_t frames)
    : place(file), about(like)
{
    about.file = file;
    about.format = formatIn(containerFor(file, like, frames), like);

    SF_INFO header{};
    header.channels = about.channels;
    header.samplerate = about.sampleRate;
    header.format = about.format;
    if (sf_format_check(&header) == SF_FALSE)
        throw OutputError(file, about.container() + " cannot hold " + std::to_string(about.bits()) + "-bit " +
                                    (about.isInteger() ? "" : "float ") + "samples at " +
                                    std::to_string(about.sampleRate) + " Hz: give the output the ending .wav");
    handle.reset(openSound(place.temporary(), SFM_WRITE, header));
    if (handle == nullptr)
        throw OutputError(file, "cannot be written: check that you may write in that folder and that it has room");
    // That chunk holds the time of day: without it printing twice gives the same file.
    sf_command(handle.get(), SFC_SET_ADD_PEAK_CHUNK, nullptr, SF_FALSE);
    if (!about.broadcast.empty()) // containers that have no such chunk do not take it
        sf_command(handle.get(), SFC_SET_BROADCAST_INFO, about.broadcast.data(),
                   static_cast<int>(about.broadcast.size()));
}

bool AudioWriter::keepsTimeStamp() const
{
    const int container = about.format & SF_FORMAT_TYPEMASK;
    return container == SF_FORMAT_WAV || container == SF_FORMAT_WAVEX || container == SF_FORMAT_RF64;
}

void AudioWriter::check(std::int64_t written, int frames) const
{
    if (written != frames)
        throw OutputError(about.file, "could not be written to its end (" + std::string(sf_strerror(handle.get())) +
                                          "): make room, or choose another disk");
}

void AudioWriter::write(const float* const* channels, int frames)
{
    const auto width = static_cast<std::size_t>(about.channels);
    const std::size_t count = width * static_cast<std::size_t>(frames);
    if (!about.isInteger())
    {
        floats.resize(count);
        for (std::size_t i = 0; i < count; ++i) floats[i] = channels[i % width][i / width];
        return check(sf_writef_float(handle.get(), floats.data(), frames), frames);
    }

    const double steps = std::ldexp(1.0, about.bits() - 1); // from 0 to full scale
    const int shift = 32 - about.bits();
    integers.resize(count);
    for (std::size_t i = 0; i < count; ++i)
    {
        const double exact = steps * static_cast<double>(channels[i % width][i / width]);
        const double rounded = std::round(shift >= 8 ? exact + dither.next() : exact);
        const double fitting = std::clamp(rounded, -steps, steps - 1.0);
        if (fitting != rounded) ++held;
        integers[i] = static_cast<int>(static_cast<std::int64_t>(fitting) * (std::int64_t{1} << shift));
    }
    check(sf_writef_int(handle.get(), integers.data(), frames), frames);
}

void AudioWriter::write(const int* interleaved, int frames)
{
    check(sf_writef_int(handle.get(), interleaved, frames), frames);
}

void AudioWriter::write(const double* interleaved, int frames)
{
    check(sf_writef_double(handle.get(), interleaved, frames), frames);
}

void AudioWriter::finish()
{
    if (const int problem = sf_close(handle.release()); problem != 0)
        throw OutputError(about.file, "could not be finished (" + std::string(sf_error_number(problem)) +
                                          "): make room, or choose another disk");
    place.commit();
}
} // namespace tarry
