#pragma once

#include "Files/AudioReader.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <sndfile.h>
#include <stdexcept>
#include <string>
#include <vector>

/// Sound files made straight with libsndfile, past our own writer.
namespace tarry::test
{
/// Random integers of so many bits, left-justified in 32, the extremes among them.
inline std::vector<int> randomIntegers(std::size_t count, int bits, unsigned seed)
{
    std::mt19937 engine(seed);
    std::vector<int> samples(count);
    for (int& sample : samples)
        sample = static_cast<int>(engine() & (bits == 32 ? 0xFFFFFFFFU : ~((1U << (32 - bits)) - 1U)));
    const unsigned top = 0x7FFFFFFFU & ~((bits == 32 ? 0U : (1U << (32 - bits)) - 1U));
    samples[0] = static_cast<int>(top);
    samples[1] = static_cast<int>(0x80000000U);
    return samples;
}

/// sf_write_int or sf_write_double, whichever the samples ask for.
inline void writeTo(SNDFILE* handle, const std::vector<int>& samples)
{
    sf_write_int(handle, samples.data(), static_cast<sf_count_t>(samples.size()));
}
inline void writeTo(SNDFILE* handle, const std::vector<double>& samples)
{
    sf_write_double(handle, samples.data(), static_cast<sf_count_t>(samples.size()));
}

template <typename Sample>
void makeFile(const std::filesystem::path& file, int format, int channels, int rate, const std::vector<Sample>& samples)
{
    SF_INFO header{};
    header.channels = channels;
    header.samplerate = rate;
    header.format = format;
    SNDFILE* handle = sf_open(file.c_str(), SFM_WRITE, &header);
    if (handle == nullptr) throw std::runtime_error(sf_strerror(nullptr));
    writeTo(handle, samples);
    sf_close(handle);
}

/// A broadcast wave (EBU Tech 3285) that starts so many samples after midnight.
inline void makeStamped(const std::filesystem::path& file, int rate, const std::vector<double>& samples,
                        std::uint64_t timeReference)
{
    SF_INFO header{};
    header.channels = 1;
    header.samplerate = rate;
    header.format = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    SNDFILE* handle = sf_open(file.c_str(), SFM_WRITE, &header);
    if (handle == nullptr) throw std::runtime_error(sf_strerror(nullptr));
    SF_BROADCAST_INFO info{};
    info.time_reference_low = static_cast<std::uint32_t>(timeReference);
    info.time_reference_high = static_cast<std::uint32_t>(timeReference >> 32);
    sf_command(handle, SFC_SET_BROADCAST_INFO, &info, sizeof(info));
    sf_write_double(handle, samples.data(), static_cast<sf_count_t>(samples.size()));
    sf_close(handle);
}

inline std::string bytesOf(const std::filesystem::path& file)
{
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

inline void writeBytes(const std::filesystem::path& file, const std::string& bytes)
{
    std::ofstream(file, std::ios::binary) << bytes;
}

inline bool contains(const std::string& text, const std::string& part)
{
    return text.find(part) != std::string::npos;
}

/// Every stored sample, exactly.
inline std::vector<int> integersIn(const std::filesystem::path& file)
{
    AudioReader reader(file, 8);
    std::vector<int> samples(static_cast<std::size_t>(reader.info().frames * reader.info().channels));
    reader.read(samples.data(), static_cast<int>(reader.info().frames));
    return samples;
}

inline std::vector<double> doublesIn(const std::filesystem::path& file)
{
    AudioReader reader(file, 8);
    std::vector<double> samples(static_cast<std::size_t>(reader.info().frames * reader.info().channels));
    reader.read(samples.data(), static_cast<int>(reader.info().frames));
    return samples;
}
} // namespace tarry::test
