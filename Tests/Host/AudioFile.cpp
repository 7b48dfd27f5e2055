#include "Host/AudioFile.h"

#include <sndfile.hh>

#include <cmath>
#include <stdexcept>

namespace tarry::host
{
namespace
{
std::runtime_error problem(const std::string& path, const std::string& what)
{
    return std::runtime_error(path + ": " + what);
}
} // namespace

Audio readAudio(const std::string& path)
{
    SndfileHandle file(path);
    if (file.error() != SF_ERR_NO_ERROR) throw problem(path, file.strError());
    const auto channels = static_cast<std::size_t>(file.channels());
    std::vector<float> interleaved(static_cast<std::size_t>(file.frames()) * channels);
    if (file.readf(interleaved.data(), file.frames()) != file.frames()) throw problem(path, "ends too early");

    Audio audio{static_cast<double>(file.samplerate()), {}};
    audio.channels.assign(channels, std::vector<float>(static_cast<std::size_t>(file.frames())));
    for (std::size_t i = 0; i < interleaved.size(); ++i) audio.channels[i % channels][i / channels] = interleaved[i];
    return audio;
}

void writeAudio(const std::string& path, const Audio& audio)
{
    const auto channels = audio.channels.size();
    std::vector<float> interleaved(audio.frames() * channels);
    for (std::size_t i = 0; i < interleaved.size(); ++i) interleaved[i] = audio.channels[i % channels][i / channels];
    SndfileHandle file(path, SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, static_cast<int>(channels),
                       static_cast<int>(std::lround(audio.sampleRate)));
    const auto frames = static_cast<sf_count_t>(audio.frames());
    if (file.error() != SF_ERR_NO_ERROR || file.writef(interleaved.data(), frames) != frames)
        throw problem(path, std::string("cannot be written: ") + file.strError());
}

} // namespace tarry::host
