#pragma once
#include <deque>
#include <string>

/// The engine's named constants as the bench can scale them. tunable.py makes copies of Source/Core in which each
/// `constexpr double x = 0.8;` reads `const double& x = tarry::tune::constant("File.x", 0.8);`: the type stays, the
/// code stays, and no other build knows of it.
namespace tarry::tune
{
struct Constant
{
    std::string name; ///< room, file and constant: Decision/StepStack.early
    double normal = 0.0;
    double now = 0.0;    ///< what doubles refer to
    float single = 0.0F; ///< what floats refer to
};

/// All of them, in no order that means anything. Filled before main.
inline std::deque<Constant>& constants()
{
    static std::deque<Constant> all; // a deque: references stay
    return all;
}

inline void set(Constant& one, double value)
{
    one.now = value;
    one.single = static_cast<float>(value);
}

inline Constant& add(const char* name, double value)
{
    for (auto& one : constants()) // one in a header is met once for each file that includes it
        if (one.name == name) return one;
    auto& one = constants().emplace_back();
    one.name = name;
    one.normal = value;
    set(one, value);
    return one;
}

inline const double& constant(const char* name, double value)
{
    return add(name, value).now;
}

inline const float& constant(const char* name, float value)
{
    return add(name, static_cast<double>(value)).single;
}
} // namespace tarry::tune
