#include "Core/Report/Tape.h"

#include "Core/Ground/Acoustics.h"

namespace tarry
{
namespace
{
constexpr double warmer = 3.0; // degrees Celsius: a hall's air is known no better, and differs from floor to ceiling
// Air at 50 % relative humidity carries sound 0.184 % faster than dry air at 20 degrees (343.99 against 343.36 m/s,
// Cramer 1993); damp air, 100 %, about twice that. The expected time is for dry air, so humidity only shortens it.
constexpr double damp = 2.0 * 0.00184;
constexpr double capsule = 0.1;  // m: where the tape is held against two capsules
constexpr double fromDrum = 0.5; // m: common practice for a spot; see TapeCheck
} // namespace

TapeCheck checkTape(double lag, double metres, double celsius)
{
    TapeCheck check;
    check.metres = metres;
    check.expected = travelTime(metres, celsius);
    check.difference = lag - check.expected;
    const double held = travelTime(capsule, celsius);
    check.longer = travelTime(metres, celsius - warmer) - check.expected + held;
    check.shorter = check.expected - travelTime(metres, celsius + warmer) + check.expected * damp + held +
                    travelTime(fromDrum, celsius);
    check.agrees = check.difference <= check.longer && check.difference >= -check.shorter;
    return check;
}
} // namespace tarry
