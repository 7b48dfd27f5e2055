#include "Plugin/LevelMatch.h"

namespace tarry
{
void LevelMatch::follow(const std::optional<ComparedBlends>& wanted, bool aligned)
{
    if (trialRuns) return;
    if (!wanted || (compared && compared != wanted)) end();
    turns = wanted == latest ? turns + 1 : 0;
    latest = wanted;
    if (!wanted) return;
    if (!compared)
    {
        if (turns < calm) return;
        blind.start(*wanted);
        compared = wanted;
    }
    if (!blind.isRunning()) compared.reset(); // the host began its streams anew
    if (!blind.isMatched() || heard == aligned) return;
    blind.hear(aligned, true);
    heard = aligned;
}

void LevelMatch::setTrialRuns(bool runs)
{
    trialRuns = runs;
    compared.reset();
    heard.reset();
    turns = 0;
}

void LevelMatch::end()
{
    if (!compared) return;
    blind.stop();
    compared.reset();
    heard.reset();
}
} // namespace tarry
