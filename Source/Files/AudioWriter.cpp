#include "Files/AudioWriter.h"

#include "Files/CutShort.h"
#include "Files/OpenSound.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstring>

namespace tarry
{
namespace
{
/// A WAV counts its bytes in 32 bits; some room is left for the other chunks.
constexpr std::int64_t largestWav = 0xFFFFFFFF - 0x100000;

/// libsndfile puts kept chunks into the header, whose buffer it lets grow to 100 kB, doubling what is needed.
constexpr std::size_t largestHeader = 45 * 1024;

std::string endingOf(const std::filesystem::path& file)
{
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
    return ending;
}

bool isWavFamily(int container)
{
    return container == SF_FORMAT_WAV || container == SF_FORMAT_WAVEX || container == SF_FORMAT_RF64;
}

int containerFor(const std::filesystem::path& file, const AudioInfo& like, std::int64_t frames)
{
    checkEnding(file);
    const std::string ending = endingOf(file);
    int container = like.format & SF_FORMAT_TYPEMASK;
    if (ending == ".wav" && !isWavFamily(container)) container = SF_FORMAT_WAV;
    if (ending == ".w64") container = SF_FORMAT_W64;
    if (ending == ".rf64") container = SF_FORMAT_RF64;
    if (ending == ".aif" || ending == ".aiff") container = SF_FORMAT_AIFF;
    if (ending == ".flac") container = SF_FORMAT_FLAC;

    const bool fits = frames * like.channels * (like.bits() / 8) < largestWav;
    if ((container == SF_FORMAT_WAV || container == SF_FORMAT_WAVEX) && !fits) container = SF_FORMAT_RF64;
    if (container == SF_FORMAT_AIFF && !fits)
        throw OutputError(file, "would be larger than the 4 GB that AIFF can hold: give it the ending .wav or .w64");
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

/// What went wrong: the system's number, or where there is none libsndfile's.
std::string why(int error, int problem)
{
    if (error != 0) return whyAndWhatToDo(error);
    return std::string("(").append(sf_error_number(problem)).append("): check the disk, or choose another folder");
}

/// To the nearest whole number, half to even, for |x| < 2^51: far beyond it a double has no place for fractions, and
/// adding it drops them. Several times faster than std::round, which is a call on older processors.
double nearest(double x)
{
    constexpr double noFractions = 0x1.8p52;
    return (x + noFractions) - noFractions;
}
} // namespace

void checkEnding(const std::filesystem::path& file)
{
    const std::string ending = endingOf(file);
    for (const char* known : {"", ".wav", ".w64", ".rf64", ".aif", ".aiff", ".flac"})
        if (ending == known) return;
    throw OutputError(file, "ends in '" + ending +
                                "', which is none of the kinds that Tarry writes: end it in .wav, .w64, .rf64, .aiff "
                                "or .flac");
}

void AudioWriter::Closer::operator()(sf_private_tag* open) const noexcept
{
    sf_close(open);
}

AudioWriter::AudioWriter(const std::filesystem::path& file, const AudioInfo& like, std::int64_t frames,
                         Existing existing)
    : place(file, existing), stream(place.descriptor()), about(like)
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
    auto calls = SoundStream::calls();
    handle.reset(sf_open_virtual(&calls, SFM_WRITE, &header, &stream));
    if (handle == nullptr)
        throw OutputError(file, "cannot be written: check that you may write in that folder and that it has room");
    // That chunk holds the time of day: without it printing twice gives the same file.
    sf_command(handle.get(), SFC_SET_ADD_PEAK_CHUNK, nullptr, SF_FALSE);
    for (const auto& [kind, text] : about.strings) sf_set_string(handle.get(), kind, text.c_str());
    keepChunks();
}

bool AudioWriter::keepsTimeStamp() const
{
    return isWavFamily(about.format & SF_FORMAT_TYPEMASK);
}

void AudioWriter::keepChunks()
{
    std::vector<KeptChunk> chunks;
    if (!about.broadcast.empty()) chunks.push_back({"bext", about.broadcast});
    chunks.insert(chunks.end(), about.chunks.begin(), about.chunks.end());
    std::size_t header = 0;
    const int container = about.format & SF_FORMAT_TYPEMASK;
    for (auto& chunk : chunks)
    {
        const bool ofAiff = chunk.name == "MARK" || chunk.name == "COMT" || chunk.name == "INST" ||
                            chunk.name == "NAME" || chunk.name == "AUTH" || chunk.name == "(c) " ||
                            chunk.name == "ANNO";
        const bool fits = ofAiff ? container == SF_FORMAT_AIFF : isWavFamily(container);
        fillUpToFour(chunk);
        header += chunk.bytes.size();
        SF_CHUNK_INFO info{};
        std::memcpy(info.id, chunk.name.data(), 4);
        info.id_size = 4;
        info.datalen = static_cast<unsigned>(chunk.bytes.size());
        info.data = chunk.bytes.data();
        if (fits && header <= largestHeader && sf_set_chunk(handle.get(), &info) == SF_ERR_NO_ERROR)
            chunksWritten.push_back(std::move(chunk));
        else
            chunksLost.push_back(chunk.name);
    }
}

void AudioWriter::check(std::int64_t written, int frames)
{
    done += frames;
    if (written == frames && stream.error() == 0) return;
    throw OutputError(about.file, "could not be written to its end " + why(stream.error(), sf_error(handle.get())));
}

void AudioWriter::write(const float* const* channels, int frames)
{
    const auto width = static_cast<std::size_t>(about.channels);
    const auto length = static_cast<std::size_t>(frames);
    if (!about.isInteger())
    {
        floats.resize(width * length);
        for (std::size_t channel = 0; channel < width; ++channel)
            for (std::size_t i = 0; i < length; ++i) floats[i * width + channel] = channels[channel][i];
        return check(sf_writef_float(handle.get(), floats.data(), frames), frames);
    }

    const double steps = std::ldexp(1.0, about.bits() - 1); // from 0 to full scale
    const int shift = 32 - about.bits();
    const bool dithered = shift >= 8;
    integers.resize(width * length);
    for (std::size_t i = 0; i < length; ++i) // frame by frame: the order in which the dither is drawn
        for (std::size_t channel = 0; channel < width; ++channel)
        {
            const double exact = steps * static_cast<double>(channels[channel][i]);
            const double rounded = nearest(dithered ? exact + dither.next() : exact);
            const double fitting = std::clamp(rounded, -steps, steps - 1.0);
            if (fitting != rounded) ++held;
            integers[i * width + channel] =
                static_cast<int>(static_cast<std::int64_t>(fitting) * (std::int64_t{1} << shift));
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
    const int problem = sf_close(handle.release());
    const int error = stream.flush();
    if (problem != 0 || error != 0) throw OutputError(about.file, "could not be finished " + why(error, problem));
    readBack();
    place.commit();
}

void AudioWriter::readBack() const
{
    const auto refuse = [this](const std::string& what)
    {
        throw OutputError(about.file, "did not come out right (" + what +
                                          "), so nothing was left there: check the disk, and print it once more");
    };
    SF_INFO header{};
    const std::unique_ptr<sf_private_tag, Closer> back(openSound(place.temporary(), SFM_READ, header));
    if (back == nullptr) refuse("it cannot be read back");
    if (header.channels != about.channels || header.samplerate != about.sampleRate || header.frames != done ||
        ((header.format ^ about.format) & (SF_FORMAT_TYPEMASK | SF_FORMAT_SUBMASK)) != 0)
        refuse("its header does not say what was written");
    try
    {
        if (missingBytes(place.temporary()) > 0) refuse("it is shorter than its header says");
        const auto found = keptChunksOf(place.temporary());
        for (const auto& chunk : chunksWritten)
        {
            const auto same = [&chunk](const KeptChunk& other)
            { return other.name == chunk.name && other.bytes.starts_with(chunk.bytes); };
            if (std::none_of(found.begin(), found.end(), same)) refuse("its chunk " + chunk.name + " is not there");
        }
    }
    catch (const InputError&)
    {
        refuse("it cannot be read back");
    }
}
} // namespace tarry
