#include "Files/RateConverter.h"

#include "Files/SoundBlock.h"

#include <samplerate.h>

namespace tarry
{
namespace
{
constexpr int blockFrames = 4096;
} // namespace

void RateConverter::Closer::operator()(SRC_STATE_tag* state) const noexcept
{
    src_delete(state);
}

RateConverter::RateConverter(AudioReader& reader, double sampleRate)
    : source(reader), ratio(sampleRate / reader.info().sampleRate)
{
    if (ratio == 1.0) return;
    int problem = 0;
    // Flat to 0.9 of the lower rate's half, aliases below -120 dB: far finer than any microphone's path needs.
    converter.reset(src_new(SRC_SINC_MEDIUM_QUALITY, reader.info().channels, &problem));
    if (converter == nullptr)
        throw InputError(reader.info().file, std::string("cannot be converted to the spot's sample rate (") +
                                                 src_strerror(problem) + "): convert it first");
    const auto width = static_cast<std::size_t>(reader.info().channels);
    block.assign(width, std::vector<float>(blockFrames));
    waiting.resize(width * blockFrames);
}

void RateConverter::refill()
{
    const std::size_t width = block.size();
    const int got = source.read(pointersTo(block).data(), blockFrames);
    atEnd = got < blockFrames;
    waitingFrom = 0;
    waitingFrames = static_cast<std::size_t>(got);
    for (std::size_t i = 0; i < waitingFrames * width; ++i) waiting[i] = block[i % width][i / width];
}

int RateConverter::read(float* const* channels, int frames)
{
    if (converter == nullptr) return source.read(channels, frames);

    const std::size_t width = block.size();
    converted.resize(width * static_cast<std::size_t>(frames));
    int done = 0;
    while (done < frames)
    {
        if (waitingFrames == 0 && !atEnd) refill();
        SRC_DATA job{};
        job.data_in = waiting.data() + waitingFrom * width;
        job.input_frames = static_cast<long>(waitingFrames);
        job.data_out = converted.data() + static_cast<std::size_t>(done) * width;
        job.output_frames = frames - done;
        job.end_of_input = atEnd ? 1 : 0;
        job.src_ratio = ratio;
        if (const int problem = src_process(converter.get(), &job); problem != 0)
            throw InputError(source.info().file, std::string("cannot be converted to the spot's sample rate (") +
                                                     src_strerror(problem) + "): convert it first");
        waitingFrom += static_cast<std::size_t>(job.input_frames_used);
        waitingFrames -= static_cast<std::size_t>(job.input_frames_used);
        done += static_cast<int>(job.output_frames_gen);
        if (atEnd && waitingFrames == 0 && job.output_frames_gen == 0) break;
    }
    for (std::size_t i = 0; i < static_cast<std::size_t>(done) * width; ++i)
        channels[i % width][i / width] = converted[i];
    return done;
}
} // namespace tarry
