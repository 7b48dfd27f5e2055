#include "Command/SessionSetups.h"

#include "Core/Ground/Version.h"
#include "Files/Checksum.h"

#include <algorithm>
#include <map>

namespace tarry::command
{
namespace
{
/// All that the plan says of a row, each cell apart from the next.
std::string wordsOf(const PlanRow& row)
{
    std::string words;
    const auto add = [&words](const std::string& text) { words += text + '\x1f'; };
    const auto addNumber = [&add](const std::optional<double>& value) { add(value ? std::to_string(*value) : "-"); };
    for (const auto& text : {std::to_string(row.line), row.cue, row.take, row.setup, row.spotText, row.roomText,
                             row.roomChannel, row.instrument, row.note, row.by, row.print})
        add(text);
    addNumber(row.taped);
    addNumber(row.temperature);
    addNumber(row.lean);
    add(row.decision ? nameOf(*row.decision) : "-");
    add(row.clap ? "clap" : "-");
    return words + '\x1e';
}
} // namespace

std::vector<PlannedSetup> setupsOf(const Plan& plan, const SessionSettings& settings)
{
    std::vector<PlannedSetup> setups;
    std::map<std::string, std::size_t> byName;
    for (const auto& row : plan.rows)
    {
        const auto [found, fresh] = byName.emplace(row.pool() + '\x1f' + row.roomChannel, setups.size());
        if (fresh) setups.emplace_back();
        setups[found->second].rows.push_back(&row);
    }
    for (auto& setup : setups)
    {
        std::string words = "tarry " + versionAndBuild() + " setup 1 " + settings.words() + plan.changed;
        for (const auto* row : setup.rows) words += wordsOf(*row);
        setup.rowsKey = sha256Of(words).substr(0, 32);
        setup.file = "setup-" + setup.rowsKey + ".json";
    }
    return setups;
}

std::vector<PlannedSetup> shareOf(const std::vector<PlannedSetup>& setups, const Shard& shard)
{
    // The setup with most takes goes first, each to the share that has least; ties to the earlier one.
    std::vector<std::size_t> order(setups.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return setups[a].rows.size() > setups[b].rows.size(); });
    std::vector<std::size_t> takes(shard.of), owner(setups.size());
    for (const std::size_t i : order)
    {
        owner[i] = static_cast<std::size_t>(std::min_element(takes.begin(), takes.end()) - takes.begin());
        takes[owner[i]] += setups[i].rows.size();
    }
    std::vector<PlannedSetup> share;
    for (std::size_t i = 0; i < setups.size(); ++i)
        if (owner[i] + 1 == shard.number) share.push_back(setups[i]);
    return share;
}
} // namespace tarry::command
