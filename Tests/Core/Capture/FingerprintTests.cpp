#include "Core/Capture/Fingerprint.h"

#include "Core/Heard.h"
#include "Support/Catch.h"

#include <set>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// The window of a take around `onset` samples.
Hit windowOf(const Take& take, std::int64_t onset)
{
    constexpr int frames = 9600, before = 2400;
    Hit hit;
    hit.resize(1, 1, frames);
    hit.sampleRate = 48000.0;
    hit.before = before;
    hit.onset = onset;
    const auto from = static_cast<std::ptrdiff_t>(onset - before);
    std::copy_n(take.spot.begin() + from, frames, hit.spot(0).begin());
    std::copy_n(take.room.begin() + from, frames, hit.room(0).begin());
    return hit;
}

Take fourStrokes(unsigned seed)
{
    Strokes strokes;
    strokes.times = {0.5, 1.1, 1.8, 2.4};
    strokes.seed = seed;
    return makeTake(48000.0, 0.0213, strokes, 0.1, -75.0);
}
} // namespace

TEST_CASE("the same samples are the same hit, wherever in them the onset was found", "[fingerprint]")
{
    const Take take = fourStrokes(1);
    const Hit hit = windowOf(take, 24000);
    for (const int later : {-40, -7, 0, 3, 40}) CHECK(fingerprint(windowOf(take, 24000 + later)) == fingerprint(hit));
}

TEST_CASE("other hits, another room and a changed bit are other hits", "[fingerprint]")
{
    const Take take = fourStrokes(1), other = fourStrokes(2);
    std::set<std::uint64_t> prints;
    for (const std::int64_t onset : {24000, 52800, 86400, 115200})
    {
        prints.insert(fingerprint(windowOf(take, onset)));
        prints.insert(fingerprint(windowOf(other, onset)));
    }
    CHECK(prints.size() == 8);
    Hit hit = windowOf(take, 24000);
    const std::uint64_t before = fingerprint(hit);
    hit.room(0)[2400 + 480] = std::nextafter(hit.room(0)[2400 + 480], 2.0F);
    CHECK(fingerprint(hit) != before);
}
