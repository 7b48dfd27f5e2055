#pragma once
#include "Core/Capture/Hit.h"
#include "Core/Ground/Settings.h"
#include "Core/Report/Report.h"

#include <memory>

namespace tarry
{
/// Hits in, report out: evidence of each hit, consensus over them, verdict. One thread at a time. [worker]
/// The same hits in the same order give the same report, always.
class Analysis
{
public:
    explicit Analysis(const MeasureSettings& settings);
    ~Analysis();
    Analysis(Analysis&&) noexcept;
    Analysis& operator=(Analysis&&) noexcept;

    /// Takes in one hit. Copies what it needs.
    void add(const Hit& hit);

    /// Takes in all hits of another analysis with the same settings, after its own: takes of one setup pooled.
    void add(const Analysis& other);

    /// What the hits so far say. Cheap enough to call after each hit.
    [[nodiscard]] Report report() const;

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace tarry
