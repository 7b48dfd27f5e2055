#include "Core/Controls/Sides.h"

#include "Core/Report/SideAlignment.h"

namespace tarry
{
Alignment leaned(const Alignment& held, double lean)
{
    return {wholeNanoseconds(held.lag + lean), held.polarity};
}

Sides leaned(const Sides& held, double lean)
{
    Sides applied = held;
    for (auto& side : applied.side) side = leaned(side, lean);
    return applied;
}
} // namespace tarry
