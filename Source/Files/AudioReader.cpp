#include "Files/AudioReader.h"

#include "Core/Ground/Text.h"
#include "Files/CutShort.h"

#include <cmath>
#include <limits>
#include <sndfile.h>

namespace tarry
{
namespace
{
constexpr int lowestRate = 44100;
constexpr int highestRate = 192000;

std::string inSeconds(double seconds)
{
    return fixed(seconds, 3) + " s";
}

bool isReadableContainer(int format)
{
    switch (format & SF_FORMAT_TYPEMASK)
    {
    case SF_FORMAT_WAV:
    case SF_FORMAT_WAVEX:
    case SF_FORMAT_W64:
    case SF_FORMAT_RF64:
    case SF_FORMAT_AIFF:
    case SF_FORMAT_FLAC:
        return true;
    default:
        return false;
    }
}

bool isPlainSamples(int format)
{
    switch (format & SF_FORMAT_SUBMASK)
    {
    case SF_FORMAT_PCM_S8:
    case SF_FORMAT_PCM_U8:
    case SF_FORMAT_PCM_16:
    case SF_FORMAT_PCM_24:
    case SF_FORMAT_PCM_32:
    case SF_FORMAT_FLOAT:
    case SF_FORMAT_DOUBLE:
        return true;
    default:
        return false;
    }
}
} // namespace

void AudioReader::Closer::operator()(sf_private_tag* open) const noexcept
{
    sf_close(open);
}

AudioReader::AudioReader(const std::filesystem::path& file, int maxChannels)
{
    about.file = file;
    openFile();
    checkHeader(maxChannels);
    loadChunks();
}

void AudioReader::openFile()
{
    const auto& file = about.file;
    std::error_code problem;
    const auto status = std::filesystem::status(file, problem);
    if (!std::filesystem::exists(status))
        throw InputError(file, problem && problem != std::errc::no_such_file_or_directory
                                   ? "cannot be read (" + problem.message() + ")"
                                   : "no such file: check the name and the folder");
    if (std::filesystem::is_directory(status)) throw InputError(file, "is a folder: name a sound file in it");
    if (!std::filesystem::is_regular_file(status))
        throw InputError(file, "is not a plain file: Tarry has to read it more than once, so save it to disk first");
    if (std::filesystem::file_size(file, problem) == 0 && !problem)
        throw InputError(file, "is empty (0 bytes): record or copy it again");

    stream = std::make_unique<SoundStream>(file);
    if (stream->error() != 0) throw InputError(file, "cannot be opened: check that you may read it");
    SF_INFO header{};
    auto calls = SoundStream::calls();
    handle.reset(sf_open_virtual(&calls, SFM_READ, &header, stream.get()));
    refuseUnreadable();
    if (handle == nullptr)
        throw InputError(file, "is not a sound file that Tarry reads, or is damaged: give it WAV, W64, RF64, AIFF or "
                               "FLAC");
    about.channels = header.channels;
    about.sampleRate = header.samplerate;
    about.frames = header.frames;
    about.format = header.format;
}

void AudioReader::refuseUnreadable() const
{
    if (stream->error() != 0)
        throw InputError(about.file, "cannot be read (" + std::generic_category().message(stream->error()) +
                                         "): check the disk, or copy it again");
}

void AudioReader::checkHeader(int maxChannels) const
{
    const auto& file = about.file;
    if (!isReadableContainer(about.format))
        throw InputError(file,
                         "is a kind of sound file that Tarry does not read: convert it to WAV, W64, RF64, AIFF or "
                         "FLAC");
    if (!isPlainSamples(about.format))
        throw InputError(file, "holds compressed samples: convert it to 16, 24 or 32 bits, or float");
    if (about.sampleRate < lowestRate || about.sampleRate > highestRate)
        throw InputError(file, "is at " + std::to_string(about.sampleRate) +
                                   " Hz: Tarry works at 44100 to 192000 Hz, so convert it first");
    if (about.channels > maxChannels)
        throw InputError(file, "has " + std::to_string(about.channels) + " channels, at most " +
                                   std::to_string(maxChannels) + " can be used here: split it");
    if (const std::uint64_t missing = missingBytes(file); missing > 0)
        throw InputError(file, "is cut short: its header promises " + std::to_string(missing) +
                                   " bytes more than there are, so copy or export it again");
    if (about.frames <= 0) throw InputError(file, "holds no samples: record or export it again");
    if (about.frames == std::numeric_limits<sf_count_t>::max())
        throw InputError(file, "does not say how long it is: convert it once more, to a file instead of a pipe");
}

void AudioReader::loadChunks()
{
    for (auto& chunk : keptChunksOf(about.file))
        if (chunk.name == "bext" && about.broadcast.empty())
            about.broadcast = std::move(chunk.bytes);
        else
            about.chunks.push_back(std::move(chunk));
    if ((about.format & SF_FORMAT_TYPEMASK) != SF_FORMAT_FLAC) return;
    for (int kind = SF_STR_FIRST; kind <= SF_STR_LAST; ++kind)
        if (const char* text = sf_get_string(handle.get(), kind); text != nullptr && kind != SF_STR_SOFTWARE)
            about.strings.emplace_back(kind, text);
}

int AudioReader::counted(std::int64_t got, int asked)
{
    refuseUnreadable();
    position += got;
    if (got < asked && position < about.frames)
        throw InputError(about.file, "is cut short or damaged: it promises " + inSeconds(about.seconds()) +
                                         " but breaks off at " +
                                         inSeconds(static_cast<double>(position) / about.sampleRate) +
                                         ", so copy or export it again");
    return static_cast<int>(got);
}

template <typename Sample>
void AudioReader::refuseWildSamples(const Sample* samples, int frames) const
{
    const auto count = static_cast<std::size_t>(frames) * static_cast<std::size_t>(about.channels);
    for (std::size_t i = 0; i < count; ++i)
    {
        if (std::isfinite(samples[i])) continue;
        const auto frame = position - frames + static_cast<std::int64_t>(i) / about.channels;
        throw InputError(about.file, "holds a sample that is no number (" +
                                         std::string(std::isnan(samples[i]) ? "NaN" : "infinite") + ") at " +
                                         inSeconds(static_cast<double>(frame) / about.sampleRate) +
                                         ": export it again, or mend that place in an editor");
    }
}

int AudioReader::read(float* const* channels, int frames)
{
    const auto width = static_cast<std::size_t>(about.channels);
    interleavedBlock.resize(static_cast<std::size_t>(frames) * width);
    const int got = counted(sf_readf_float(handle.get(), interleavedBlock.data(), frames), frames);
    if (!about.isInteger()) refuseWildSamples(interleavedBlock.data(), got);
    for (std::size_t channel = 0; channel < width; ++channel)
        for (std::size_t i = 0; i < static_cast<std::size_t>(got); ++i)
            channels[channel][i] = interleavedBlock[i * width + channel];
    return got;
}

int AudioReader::read(int* interleaved, int frames)
{
    return counted(sf_readf_int(handle.get(), interleaved, frames), frames);
}

int AudioReader::read(double* interleaved, int frames)
{
    const int got = counted(sf_readf_double(handle.get(), interleaved, frames), frames);
    if (!about.isInteger()) refuseWildSamples(interleaved, got);
    return got;
}

void AudioReader::rewind()
{
    if (sf_seek(handle.get(), 0, SEEK_SET) != 0) throw InputError(about.file, "cannot be read again from its start");
    position = 0;
}
} // namespace tarry
