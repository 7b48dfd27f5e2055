#pragma once

#include "Command/DrumTake.h"

#include <nlohmann/json.hpp>

/// A small plan with its sound files, made up line by line.
namespace tarry::test
{
class SessionPlan : public TemporaryFolder
{
public:
    /// What a line is made of.
    struct Line
    {
        std::string cue{}, setup = "A", instrument{};
        double lag = 0.0310; ///< s
        Polarity polarity = Polarity::normal;
        double drift = 0.0; ///< share: see Take
        int hits = 6;
        std::string more{}; ///< cells for decision, lean_ms, note
    };

    /// Adds a take, its spot and its room.
    void add(const Line& line)
    {
        const Take take(++seed, line.hits);
        const std::string name = std::string("take ").append(std::to_string(seed));
        makeFile(path() / (name + " spot.wav"), floatWav, 1, rate, take.at(rate, 0.0, 1.0));
        makeFile(path() / (name + " room.wav"), floatWav, 1, rate,
                 roomOf(take, rate, line.lag, line.polarity, line.drift));
        addLine(line.cue + ",1," + line.setup + "," + line.instrument + "," + name + " spot.wav," + name +
                " room.wav," + (line.more.empty() ? ",," : line.more));
    }

    /// A line as it stands in the plan: cue, take, setup, instrument, spot, room, decision, lean_ms, note.
    void addLine(const std::string& text)
    {
        plan += text + "\n";
        writeBytes(file(), plan);
    }

    [[nodiscard]] std::filesystem::path file() const { return path() / "plan.csv"; }

    /// `tarry session PLAN -o OUT` and whatever else is said.
    [[nodiscard]] ProcessResult run(const std::string& out, std::vector<std::string> more = {}) const
    {
        more.insert(more.begin(), {"session", file().string(), "-o", (path() / out).string()});
        return tarryCommand(more);
    }

    [[nodiscard]] nlohmann::json sheet(const std::string& out) const
    {
        return nlohmann::json::parse(bytesOf(path() / out / "sheet.json"));
    }

    /// The lines of the sheet that want an ear.
    [[nodiscard]] std::vector<int> ears(const std::string& out) const
    {
        std::vector<int> lines;
        const auto whole = sheet(out);
        for (const auto& row : whole.at("rows"))
            if (!row.at("wants_ear").empty()) lines.push_back(row.at("line"));
        return lines;
    }

    static constexpr int rate = 48000;

private:
    unsigned seed = 0;
    std::string plan = "cue,take,setup,instrument,spot,room,decision,lean_ms,note\n";
};
} // namespace tarry::test
