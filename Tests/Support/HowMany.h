#pragma once
#include <cstdlib>

namespace tarry::test
{
/// How often a long test does its thing: `usual`, or what the environment says instead (cmake/deep-check.sh does).
inline int howMany(const char* variable, int usual)
{
    const char* set = std::getenv(variable);
    return set != nullptr ? std::atoi(set) : usual;
}
} // namespace tarry::test
