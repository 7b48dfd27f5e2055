#pragma once
#include <juce_events/juce_events.h>

#include <atomic>
#include <functional>

namespace tarry::standalone
{
/// Does slow work on a thread of its own, one thing after the other, and then says so on the screen's thread.
class Background
{
public:
    /// What is to be done on the screen's thread when the work is.
    using Then = std::function<void()>;

    ~Background();

    /// `work` runs on the thread; what it returns runs on the screen's, unless this is gone by then. [screen]
    void run(std::function<Then()> work);

    /// Turns true when this is being taken down: long work gives up.
    [[nodiscard]] const std::atomic<bool>& cancelled() const noexcept { return over; }

private:
    std::atomic<bool> over{false};
    juce::ThreadPool pool{1};
    JUCE_DECLARE_WEAK_REFERENCEABLE(Background)
};
} // namespace tarry::standalone
