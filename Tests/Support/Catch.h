#pragma once

// Catch2 of either generation: 3 has a header of its own name for everything, 2 one single header.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
