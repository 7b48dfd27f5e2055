#include "Standalone/Background.h"

namespace tarry::standalone
{
Background::~Background()
{
    over = true;
    pool.removeAllJobs(false, -1);
}

void Background::run(std::function<Then()> work)
{
    const juce::WeakReference<Background> self(this);
    pool.addJob(
        [self, work = std::move(work)]
        {
            juce::MessageManager::callAsync(
                [self, then = work()]
                {
                    if (self != nullptr && then) then();
                });
        });
}
} // namespace tarry::standalone
