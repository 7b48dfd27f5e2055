#include "Files/ClipCheck.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
ClipCheck checked(int format, std::vector<float> samples, std::size_t block)
{
    AudioInfo info;
    info.channels = 1;
    info.sampleRate = 48000;
    info.format = format;
    ClipCheck clips(info);
    for (std::size_t i = 0; i < samples.size(); i += block)
    {
        const float* channel = &samples[i];
        clips.look(&channel, static_cast<int>(std::min(block, samples.size() - i)));
    }
    return clips;
}
} // namespace

TEST_CASE("clips: three in a row in whole numbers, any sample above full scale in float; whatever the blocks")
{
    const float top = 1.0F - 1.0F / 32768.0F;
    std::vector<float> samples(48000, 0.1F);
    samples[10] = samples[11] = top; // a peak
    for (const std::size_t block : {1U, 7U, 48000U})
    {
        CHECK(checked(SF_FORMAT_WAV | SF_FORMAT_PCM_16, samples, block).places() == 0);
        CHECK(checked(SF_FORMAT_WAV | SF_FORMAT_PCM_16, samples, block).note().empty());
    }
    for (std::size_t i = 24000; i < 24005; ++i) samples[i] = -1.0F;
    samples[30000] = samples[30001] = samples[30002] = top;
    for (const std::size_t block : {1U, 7U, 48000U})
    {
        const auto clips = checked(SF_FORMAT_WAV | SF_FORMAT_PCM_16, samples, block);
        INFO(clips.note());
        CHECK(clips.places() == 2);
        CHECK(contains(clips.note(), "The spot clips: turn it down before the insert."));
        CHECK(contains(clips.note(), "2 times, first at 0.500 s"));
    }
    CHECK(checked(SF_FORMAT_WAV | SF_FORMAT_PCM_24, std::vector<float>(9, top), 4).places() == 0); // below its top
    CHECK(checked(SF_FORMAT_WAV | SF_FORMAT_FLOAT, std::vector<float>{0.2F, 1.5F, 0.2F, -1.0F}, 4).places() == 2);
    CHECK(checked(SF_FORMAT_WAV | SF_FORMAT_FLOAT, std::vector<float>(9, 0.9999F), 4).places() == 0);
}
