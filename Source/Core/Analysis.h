#pragma once
#include "Core/Hit.h"
#include "Core/Report.h"
#include "Core/Settings.h"

#include <memory>

namespace tarry
{
/// Hits in, report out: evidence of each hit, consensus over them, verdict. One thread at a time. [worker]
/// The same hits in the same order give the same report, always.
class Analysis
{
public:
    explicit Analysis(const ListenSettings& settings);
    ~Analysis();
    Analysis(Analysis&&) noexcept;
    Analysis& operator=(Analysis&&) noexcept;

    /// Takes in one hit. Copies what it needs.
    void add(const Hit& hit);

    /// What the hits so far say. Cheap enough to call after each hit.
    [[nodiscard]] Report report() const;

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace tarry
