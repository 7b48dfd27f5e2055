#pragma once
#include "Files/AudioInfo.h"
#include "Files/Errors.h"
#include "Files/SoundStream.h"

#include <memory>
#include <vector>

struct sf_private_tag; // libsndfile's own

namespace tarry
{
/// Reads a WAV (broadcast wave too), W64, RF64, AIFF or FLAC file of 44.1 to 192 kHz block by block. Refuses, with an
/// InputError of one clear line, what cannot be measured honestly: files that are missing, no sound, empty, cut short,
/// or hold samples that are no numbers.
class AudioReader
{
public:
    /// Opens and checks the header. `maxChannels`: more are refused.
    explicit AudioReader(const std::filesystem::path& file, int maxChannels);

    [[nodiscard]] const AudioInfo& info() const { return about; }

    /// The next frames, one buffer a channel, full scale 1. Returns how many; fewer than asked for only at the end.
    int read(float* const* channels, int frames);

    /// The next frames just as they are stored, interleaved: integers left-justified in 32 bits, and doubles for float
    /// files. Returns how many.
    int read(int* interleaved, int frames);
    int read(double* interleaved, int frames);

    /// Back to the first frame.
    void rewind();

private:
    struct Closer
    {
        void operator()(sf_private_tag* handle) const noexcept;
    };

    void openFile();
    void checkHeader(int maxChannels) const;
    void loadChunks();
    int counted(std::int64_t got, int asked);
    template <typename Sample>
    void refuseWildSamples(const Sample* samples, int frames) const;

    void refuseUnreadable() const;

    AudioInfo about;
    std::unique_ptr<SoundStream> stream; ///< before the handle, which reads from it
    std::unique_ptr<sf_private_tag, Closer> handle;
    std::vector<float> interleavedBlock;
    std::int64_t position = 0; ///< frames read so far
};
} // namespace tarry
