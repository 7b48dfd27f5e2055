#pragma once
#include "Hall/Random.h"

#include <vector>

/// What a desk does to a spot whose loudest sample is 1, at soundRate, in place.
namespace tarry::bench
{
/// Ratio 3 to 10 above a threshold of -30 to -15 dB, attack 0.5 to 20 ms, release 40 to 250 ms; the loudest sample 1
/// again.
void compress(std::vector<double>& spot, hall::Random& random);
/// Four peaks of up to 10 dB.
void equalise(std::vector<double>& spot, hall::Random& random);
/// Closed below -35 to -18 dB: opens within 0.1 to 2 ms after the threshold is passed, holds, closes over 50 to 200 ms,
/// to silence or by 20 dB.
void gate(std::vector<double>& spot, hall::Random& random);
/// A click track as it leaks out of headphones: one a beat, its loudest sample at `level`.
void addClicks(std::vector<double>& spot, double beat, double level, hall::Random& random);
} // namespace tarry::bench
