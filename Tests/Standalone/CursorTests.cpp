#include "Standalone/Cursor.h"
#include "Support/Catch.h"

#include <cmath>
#include <random>
#include <vector>

using namespace tarry::standalone;

namespace
{
constexpr double rate = 1000.0; // Hz: rise 50, fall 20, gap 500 frames
constexpr int gapFrames = 500, fallFrames = 20;

std::vector<Cursor::Step> run(Cursor& cursor, int frames, int block = 7)
{
    std::vector<Cursor::Step> steps;
    while (static_cast<int>(steps.size()) < frames)
    {
        const bool goes = cursor.begin();
        for (int k = 0; k < block; ++k) steps.push_back(goes ? cursor.next() : Cursor::Step{-1, 0.0F});
        cursor.end();
    }
    return steps;
}
} // namespace

TEST_CASE("a loop plays every frame in order, then half a second of silence, then all of it again")
{
    Cursor cursor;
    cursor.prepare(rate, 300);
    cursor.play(true);
    const auto steps = run(cursor, 2 * (300 + gapFrames));
    for (std::size_t k = 0; k < 2 * (300 + gapFrames); ++k)
    {
        const auto within = static_cast<std::int64_t>(k % (300 + gapFrames));
        INFO("frame " << k);
        REQUIRE(steps[k].at == (within < 300 ? within : -1));
        if (within < 300 - fallFrames) REQUIRE(steps[k].gain == 1.0F); // the first sample, too
    }
}

TEST_CASE("without a loop it stops at the end and stands at the start")
{
    Cursor cursor;
    cursor.prepare(rate, 300);
    cursor.loop(false);
    cursor.play(true);
    run(cursor, 310);
    CHECK_FALSE(cursor.plays());
    CHECK(cursor.position() == 0);
    CHECK(cursor.begin()); // what was played dies away
    run(cursor, gapFrames);
    CHECK_FALSE(cursor.begin());
    cursor.play(true);
    CHECK(run(cursor, 7).front().at == 0);
}

TEST_CASE("stopped and started again it goes on where it was")
{
    Cursor cursor;
    cursor.prepare(rate, 3000);
    cursor.play(true);
    run(cursor, 700);
    cursor.play(false);
    run(cursor, fallFrames + gapFrames + 10);
    CHECK_FALSE(cursor.begin());
    const auto stood = cursor.position();
    CHECK(stood == 700 + fallFrames);
    cursor.play(true);
    CHECK(run(cursor, 7).front().at == stood);
}

TEST_CASE("a jump while at rest shows at once, and one past the end is held at the last frame")
{
    Cursor cursor;
    cursor.prepare(rate, 300);
    cursor.seek(120);
    CHECK_FALSE(cursor.begin());
    CHECK(cursor.position() == 120);
    cursor.seek(5000);
    CHECK_FALSE(cursor.begin());
    CHECK(cursor.position() == 299);
    Cursor nothing;
    nothing.prepare(rate, 0);
    nothing.play(true);
    nothing.seek(3);
    CHECK_FALSE(nothing.begin());
}

TEST_CASE("whatever is pressed when, loudness never steps but from the very start, and no place is left while loud")
{
    const unsigned seed = GENERATE(1U, 2U, 3U, 4U);
    std::mt19937 random(seed);
    Cursor cursor;
    cursor.prepare(rate, 900);
    cursor.play(true);
    Cursor::Step before{-1, 0.0F};
    float steepest = 0.0F, loudestLeft = 0.0F;
    for (int act = 0; act < 2000; ++act)
    {
        switch (random() % 5)
        {
        case 0:
            cursor.play(false);
            break;
        case 1:
            cursor.seek(static_cast<std::int64_t>(random() % 1000));
            break;
        case 2:
            cursor.loop(random() % 2 == 0);
            break;
        default:
            cursor.play(true);
        }
        for (const auto& step : run(cursor, static_cast<int>(random() % 80) + 1, 3))
        {
            REQUIRE(step.at < 900);
            const bool goesOn = step.at == before.at + 1 && before.at >= 0;
            if (goesOn) steepest = std::max(steepest, std::abs(step.gain - before.gain));
            if (!goesOn && before.at >= 0) loudestLeft = std::max(loudestLeft, before.gain);
            if (!goesOn && step.at > 0) steepest = std::max(steepest, step.gain);
            before = step;
        }
    }
    // Two falls at once (stopped near the end) are the steepest: the product of two ramps of 1/20 a frame.
    INFO("seed " << seed << ": steepest " << steepest << " a frame, limit 0.1; loudest frame left " << loudestLeft);
    CHECK(steepest <= 0.1F + 1.0e-6F);
    CHECK(loudestLeft <= 0.05F + 1.0e-6F);
}
