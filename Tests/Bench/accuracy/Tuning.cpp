#include "Tuning.h"
#include "Score.h"
#include "ScoreStatistics.h"
#include "Stages.h"

#include <stdexcept>

#ifdef TARRY_TUNABLE
#include "Tunable.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cstdio>
#include <thread>

namespace tarry::bench
{
namespace
{
tune::Constant& constantOf(std::string_view name)
{
    for (auto& one : tune::constants())
        if (one.name == name) return one;
    std::string all;
    for (const auto& one : tune::constants()) all += "\n  " + one.name;
    throw std::runtime_error("no constant is called " + std::string(name) + "; there are" + all);
}

void turnOff(const Stage& stage)
{
    for (const auto& [constant, value] : stage.off)
        if (!constant.empty()) tune::set(constantOf(constant), value);
}

void restore()
{
    for (auto& one : tune::constants()) tune::set(one, one.normal);
}

/// What a run comes to, in so many figures.
struct Figures
{
    int withLag = 0, right = 0, fine = 0, align = 0, polarity = 0, sureAndWrong = 0, alignWithout = 0;
    double brier = 0.0;

    bool operator==(const Figures&) const = default;
};

/// Scenes whose hits have been taken in.
class Scenes
{
public:
    Scenes(const std::vector<std::function<Example()>>& tasks, unsigned threads) : jobs(threads), makers(tasks)
    {
        kept.resize(makers.size());
        takeInAll();
    }

    void takeInAll()
    {
        each(
            [this](std::size_t i)
            {
                auto example = makers[i]();
                kept[i].analysis = takeIn(example);
                example.spot.clear();
                example.room.clear();
                kept[i].example = std::move(example);
            });
    }

    [[nodiscard]] Figures figures()
    {
        std::vector<Outcome> outcomes(kept.size());
        each([&](std::size_t i) { outcomes[i] = outcomeOf(kept[i].example, kept[i].analysis->report()); });
        Figures sum;
        for (const auto& one : outcomes)
        {
            const double said = one.report.confidence;
            const bool good = one.within(0, right);
            sum.brier +=
                (said - (good ? 1.0 : 0.0)) * (said - (good ? 1.0 : 0.0)) / static_cast<double>(outcomes.size());
            sum.sureAndWrong += said >= 0.9 && !good;
            const bool align = one.report.verdict == Verdict::align;
            if (!one.lag)
            {
                sum.alignWithout += align;
                continue;
            }
            ++sum.withLag;
            sum.right += good;
            sum.fine += one.within(0, 0.0001);
            sum.align += good && align;
            sum.polarity += good && one.polarity && one.report.polarity == one.polarity;
        }
        return sum;
    }

private:
    struct Kept
    {
        Example example; // without its tracks
        std::unique_ptr<Analysis> analysis;
    };

    template <typename Work>
    void each(Work work)
    {
        std::atomic<std::size_t> next{0};
        std::vector<std::jthread> threads;
        for (unsigned j = 0; j < jobs; ++j)
            threads.emplace_back(
                [&]
                {
                    for (std::size_t i = next++; i < kept.size(); i = next++) work(i);
                });
    }

    unsigned jobs;
    std::vector<std::function<Example()>> makers;
    std::vector<Kept> kept;
};

std::string header(const char* first, const Figures& normal)
{
    char line[400];
    std::snprintf(
        line, sizeof line,
        "| %s | right | within 0.1 ms | align where right | polarity | sure and wrong | align where no lag is "
        "right | Brier |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n"
        "| as it is (of %d with a lag) | %d | %d | %d | %d | %d | %d | %.4f |\n",
        first, normal.withLag, normal.right, normal.fine, normal.align, normal.polarity, normal.sureAndWrong,
        normal.alignWithout, normal.brier);
    return line;
}

/// Differences from the normal figures.
std::string row(const std::string& name, const Figures& now, const Figures& normal)
{
    char line[400];
    std::snprintf(line, sizeof line, "| %s | %+d | %+d | %+d | %+d | %+d | %+d | %+.4f |\n", name.c_str(),
                  now.right - normal.right, now.fine - normal.fine, now.align - normal.align,
                  now.polarity - normal.polarity, now.sureAndWrong - normal.sureAndWrong,
                  now.alignWithout - normal.alignWithout, now.brier - normal.brier);
    return line;
}

/// Only constants of these rooms work on what is kept of a hit; all others shape what is kept.
bool decidesOnly(const std::string& constant)
{
    return constant.starts_with("Decision/") || constant.starts_with("Report/");
}
} // namespace

void leaveOut(const std::string& stage)
{
    for (const auto& one : stages)
        if (one.name == stage) return turnOff(one);
    std::string all;
    for (const auto& one : stages) all.append("\n  ").append(one.name).append(": ").append(one.words);
    throw std::runtime_error("no stage is called " + stage + "; there are" + all);
}

void scale(const std::string& change)
{
    const auto sign = change.find('=');
    if (sign == std::string::npos) throw std::runtime_error("--scale takes constant=factor, not " + change);
    auto& constant = constantOf(std::string_view(change).substr(0, sign));
    tune::set(constant, constant.now * std::stod(change.substr(sign + 1)));
}

std::string sensitivity(const std::vector<std::function<Example()>>& tasks, unsigned jobs)
{
    Scenes scenes(tasks, jobs);
    const auto normal = scenes.figures();
    auto text = header("constant, times", normal);
    std::string idle;
    std::vector<std::string> names;
    for (const auto& one : tune::constants()) names.push_back(one.name);
    std::sort(names.begin(), names.end());
    for (const auto& name : names)
    {
        auto& constant = constantOf(name);
        bool anything = false;
        for (const double factor : {0.7, 1.4})
        {
            tune::set(constant, constant.normal * factor);
            if (!decidesOnly(name)) scenes.takeInAll();
            const auto now = scenes.figures();
            anything = anything || !(now == normal);
            char words[200];
            std::snprintf(words, sizeof words, "%s = %g, %.1f", name.c_str(), constant.normal, factor);
            if (!(now == normal)) text += row(words, now, normal);
        }
        restore();
        if (!decidesOnly(name)) scenes.takeInAll();
        if (!anything) idle += (idle.empty() ? "" : ", ") + name;
    }
    return text + "\nNothing changes with: " + idle + "\n";
}

std::string ablation(const std::vector<std::function<Example()>>& tasks, unsigned jobs)
{
    Scenes scenes(tasks, jobs);
    const auto normal = scenes.figures();
    auto text = header("without", normal);
    for (const auto& stage : stages)
    {
        turnOff(stage);
        scenes.takeInAll();
        text += row(std::string(stage.name) + ": " + std::string(stage.words), scenes.figures(), normal);
        restore();
    }
    return text;
}
} // namespace tarry::bench
#else
namespace tarry::bench
{
namespace
{
[[noreturn]] void refuse()
{
    throw std::runtime_error("this build's constants are fixed: cmake --preset tune makes one that can change them");
}
} // namespace

void leaveOut(const std::string&)
{
    refuse();
}
void scale(const std::string&)
{
    refuse();
}
std::string sensitivity(const std::vector<std::function<Example()>>&, unsigned)
{
    refuse();
}
std::string ablation(const std::vector<std::function<Example()>>&, unsigned)
{
    refuse();
}
} // namespace tarry::bench
#endif
