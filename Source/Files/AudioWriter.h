#pragma once
#include "Files/AudioInfo.h"
#include "Files/Dither.h"
#include "Files/SafeFile.h"
#include "Files/SoundStream.h"

#include <memory>
#include <vector>

namespace tarry
{
/// Writes a sound file of the same kind as a given one, block by block. It appears under its name only when `finish`
/// has succeeded, which reads header and length back first; until then, and after any failure, there is nothing.
class AudioWriter
{
public:
    /// `like`: channels, rate, sample format and what it says beside its sound. The container follows the name's ending
    /// (.wav .w64 .rf64 .aif .aiff .flac), or is that of `like` where the name has none; any other ending is refused.
    /// `frames`: how many are to be written. Throws OutputError.
    AudioWriter(const std::filesystem::path& file, const AudioInfo& like, std::int64_t frames,
                Existing existing = Existing::replace);

    /// Samples of full scale 1, one buffer a channel. Integer formats of up to 24 bits get triangular dither of one
    /// step to either side; what does not fit is held at full scale and counted.
    void write(const float* const* channels, int frames);

    /// Stored samples as AudioReader gives them, interleaved, unchanged.
    void write(const int* interleaved, int frames);
    void write(const double* interleaved, int frames);

    /// Closes the file, reads its header and length back, and puts it in its place.
    void finish();

    /// True where the container holds a broadcast chunk, with its time reference.
    [[nodiscard]] bool keepsTimeStamp() const;

    /// Names of the chunks of `like` that the container cannot hold: "bext", "iXML"...
    [[nodiscard]] const std::vector<std::string>& lost() const { return chunksLost; }

    /// Samples that were held at full scale.
    [[nodiscard]] std::int64_t clipped() const { return held; }

private:
    struct Closer
    {
        void operator()(sf_private_tag* handle) const noexcept;
    };

    void keepChunks();
    void check(std::int64_t written, int frames);
    void readBack() const;

    SafeFile place;
    SoundStream stream;
    AudioInfo about;
    std::unique_ptr<sf_private_tag, Closer> handle;
    Dither dither;
    std::vector<int> integers;
    std::vector<float> floats;
    std::vector<KeptChunk> chunksWritten;
    std::vector<std::string> chunksLost;
    std::int64_t held = 0, done = 0;
};

/// Throws OutputError where a file's ending names no container that can be written.
void checkEnding(const std::filesystem::path& file);
} // namespace tarry
