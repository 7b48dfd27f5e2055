#include "Core/Ground/Acoustics.h"

#include <cmath>

namespace tarry
{
double speedOfSound(double celsius)
{
    return 343.2 * std::sqrt((celsius + 273.15) / 293.15);
}

double distanceOf(double seconds, double celsius)
{
    return seconds * speedOfSound(celsius);
}

double travelTime(double metres, double celsius)
{
    return metres / speedOfSound(celsius);
}
} // namespace tarry
