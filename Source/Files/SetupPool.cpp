#include "Files/SetupPool.h"

#include "Core/Analysis.h"
#include "Core/Ground/Statistics.h"
#include "Core/Report/BlendFigures.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/Verdict.h"
#include "Files/RowOutcome.h"
#include "Files/TakeFigures.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr std::size_t fewestHits = 8;   // whose middle says more than their evidence together
constexpr std::size_t hitsInPool = 128; // more would push out the first of them: see Analysis

double middleOf(const MeasuredTake& take)
{
    double sum = 0.0;
    for (const TimedLag& hit : take.hits) sum += hit.time;
    return take.hits.empty() ? 0.0 : sum / static_cast<double>(take.hits.size());
}

/// A take that is sure of its lag tells of the clocks too; one whose lag runs away from itself over a long cue can be
/// sure of nothing but that.
bool tellsClocks(const MeasuredTake& take)
{
    const LagFigures& own = take.row.own;
    return own.driftPpm &&
           (take.isSure() || driftThatMatters({*own.driftPpm, own.driftPpmSd}, take.seconds, own.hitsUsed));
}

/// The clocks of spot's and room's recorders, from all takes' own trends, each by how well it is known. The deviation
/// grows where the takes differ by more than theirs.
std::optional<Drift> clocksOf(const std::vector<MeasuredTake>& takes)
{
    double weights = 0.0, sum = 0.0;
    int count = 0;
    const auto weightOf = [](const LagFigures& own) { return 1.0 / std::max(1e-4, own.driftPpmSd * own.driftPpmSd); };
    for (const auto& take : takes)
        if (tellsClocks(take))
        {
            weights += weightOf(take.row.own);
            sum += weightOf(take.row.own) * *take.row.own.driftPpm;
            ++count;
        }
    if (count == 0) return std::nullopt;
    Drift clocks{sum / weights, std::sqrt(1.0 / weights)};
    double scatter = 0.0;
    for (const auto& take : takes)
        if (tellsClocks(take)) scatter += weightOf(take.row.own) * std::pow(*take.row.own.driftPpm - clocks.ppm, 2.0);
    if (count > 1) clocks.ppmSd *= std::max(1.0, std::sqrt(scatter / (count - 1)));
    return clocks;
}

class Pooling
{
public:
    Pooling(const std::vector<MeasuredTake>& takesToPool, std::string planChanged, HitsOf hits)
        : takes(takesToPool), planned(std::move(planChanged)), hitsOf(std::move(hits))
    {
    }

    SessionRecord pool()
    {
        for (const auto& take : takes) longest = std::max(longest, take.seconds);
        clocks = clocksOf(takes);
        drifts = clocks && driftThatMatters(*clocks, longest);
        findPlaces();
        for (std::size_t p = 0; p < places.size(); ++p) poolPlace(p);
        for (std::size_t i = 0; i < takes.size(); ++i)
        {
            record.rows.push_back(outcomeOf(takes[i], pooled[placeOf[i]], comeTo(i), clocks, planned));
            lookAgain(takes[i], record.rows.back());
        }
        addMachines();
        return std::move(record);
    }

private:
    /// The take's lag as it would be at the same time in every take.
    [[nodiscard]] std::optional<double> lagForPlace(const MeasuredTake& take, double middle) const
    {
        if (!take.isSure()) return std::nullopt;
        return *take.row.own.lag - (drifts ? clocks->ppm * 1e-6 * (middleOf(take) - middle) : 0.0);
    }

    void findPlaces()
    {
        double middle = 0.0;
        for (const auto& take : takes) middle += middleOf(take) / static_cast<double>(takes.size());
        std::vector<std::optional<double>> lags;
        for (const auto& take : takes)
        {
            steps.push_back(stepWithin(take.hits));
            lags.push_back(steps.back() ? std::nullopt : lagForPlace(take, middle));
        }
        placeOf = placesOf(lags);
        places.resize(1 + *std::max_element(placeOf.begin(), placeOf.end()));
        for (std::size_t i = 0; i < takes.size(); ++i) places[placeOf[i]].push_back(i);
    }

    void poolPlace(std::size_t p)
    {
        const auto& members = places[p];
        PooledPlace place;
        place.name = nameOfPlace(p);
        place.figures = joined(members);
        for (const std::size_t i : members)
            if (takes[i].byClap && (!place.byClap || takes[i].row.own.confidence > place.figures.confidence))
                followClap(place, takes[i].row.own);
        std::vector<double> own;
        for (const std::size_t i : members)
            if (takes[i].isSure()) own.push_back(*takes[i].row.own.lag);
        const bool sure = place.figures.lag && place.figures.verdict == Verdict::align;
        place.rules = members.size() > 1 && !drifts && sure && place.figures.confidence >= trusted;
        place.lag = place.rules || own.empty() ? place.figures.lag.value_or(0.0) : quantile(own, 0.5);
        place.takes = static_cast<int>(own.size());
        double squares = 0.0;
        for (const double lag : own)
        {
            squares += (lag - place.lag) * (lag - place.lag);
            place.takesAgreeing += std::abs(lag - place.lag) <= samePlace ? 1 : 0;
        }
        const double spread = own.empty() ? 0.0 : std::sqrt(squares / static_cast<double>(own.size()));
        record.setups.push_back(setupOf(place, takes[members.front()].row, takes[members.back()].row, spread));
        pooled.push_back(std::move(place));
    }

    [[nodiscard]] std::string nameOfPlace(std::size_t p) const
    {
        const SessionRow& first = takes[places[p].front()].row;
        std::string name = first.setup;
        if (!first.instrument.empty()) name += " · " + first.instrument;
        if (first.roomChannel != "first") name += " · room " + first.roomChannel;
        if (p == 1) name += ", moved";
        if (p > 1) name += ", moved (" + std::to_string(p) + ")";
        return name;
    }

    static void followClap(PooledPlace& place, const LagFigures& clap)
    {
        place.byClap = true;
        place.figures.lag = clap.lag;
        place.figures.polarity = clap.polarity;
        place.figures.confidence = clap.confidence;
        place.figures.verdict = clap.verdict;
        place.figures.reasons = clap.reasons;
    }

    static SetupRecord setupOf(const PooledPlace& place, const SessionRow& first, const SessionRow& last, double spread)
    {
        SetupRecord setup;
        setup.name = place.name;
        setup.setup = first.setup;
        setup.instrument = first.instrument;
        setup.firstCue = first.cue;
        setup.firstTake = first.take;
        setup.lastCue = last.cue;
        setup.lastTake = last.take;
        setup.takes = place.takes;
        setup.takesAgreeing = place.takesAgreeing;
        setup.byClap = place.byClap;
        setup.pooled = place.figures;
        setup.takesSpread = spread;
        return setup;
    }

    /// The evidence of these takes together. Those at another sample rate or with other channels than the first cannot
    /// share evidence; the lag serves them all the same.
    [[nodiscard]] LagFigures joined(const std::vector<std::size_t>& members) const
    {
        if (members.size() == 1) return takes[members.front()].row.own;
        const MeasureSettings& settings = takes[members.front()].settings;
        const std::size_t most = std::max<std::size_t>(2, hitsInPool / members.size());
        Analysis together(settings);
        for (const std::size_t i : members)
        {
            if (!(takes[i].settings == settings) || steps[i]) continue;
            auto hits = hitsOf(takes[i]);
            hits.resize(std::min(most, hits.size()));
            std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) { return a.onset < b.onset; });
            for (const Hit& hit : hits) together.add(hit);
        }
        Report report = together.report();
        report.driftPpm = std::nullopt; // from a few hits of many takes; the takes' own trends say it better
        judge(report, longest);
        auto figures = figuresOf(report);
        if (figures.lag && !drifts) figures.lag = middleOfHits(members, *figures.lag);
        if (clocks)
        {
            figures.driftPpm = clocks->ppm;
            figures.driftPpmSd = clocks->ppmSd;
        }
        return figures;
    }

    /// The evidence together says which arrival it is; where that lies, the hits' own arrivals say more sharply, which
    /// are many and err each in its own way: the middle of all that fall there.
    [[nodiscard]] double middleOfHits(const std::vector<std::size_t>& members, double lag) const
    {
        std::vector<double> lags;
        for (const std::size_t i : members)
            for (const TimedLag& hit : takes[i].hits)
                if (std::abs(hit.lag - lag) <= samePlace) lags.push_back(hit.lag);
        return lags.size() < fewestHits ? lag : wholeNanoseconds(quantile(lags, 0.5));
    }

    /// The sum's figures and the picture at the lag that holds, where that is another than the take's own.
    void lookAgain(const MeasuredTake& take, SessionRow& row) const
    {
        constexpr double sameToTheEye = 0.1e-3; // s
        const bool same = row.againstPool && std::abs(*row.againstPool) <= sameToTheEye;
        if (!row.fromPool || (same && row.polarity == row.own.polarity)) return;
        Analysis alone(take.settings);
        for (const Hit& hit : hitsOf(take)) alone.add(hit);
        const Report report = alone.report();
        const Alignment applied{*row.lag, row.polarity};
        if (const auto blend = blendAt(report, report.spotSide, applied))
        {
            row.lowSumNormal = blend->lowSumNormalDb;
            row.lowSumInverted = blend->lowSumInvertedDb;
        }
        if (const auto picture = attackPicture(report, applied)) row.attack = picture;
    }

    /// For a take at another place than the first, or one within which the stand was moved.
    [[nodiscard]] std::optional<ComeTo> comeTo(std::size_t i) const
    {
        const SessionRow& row = takes[i].row;
        ComeTo result;
        if (steps[i])
        {
            result.first = true;
            result.moved.by = steps[i]->after - steps[i]->before;
            result.moved.sinceCue = row.cue;
            result.moved.sinceTake = row.take;
            result.moved.sinceTime = steps[i]->time;
            result.moved.sentence = sentence(steps[i]->before, steps[i]->after, takeName(row.cue, row.take)) +
                                    " It was moved within this take, after " + secondsText(steps[i]->time) +
                                    ": align the parts before and after on their own.";
            return result;
        }
        if (placeOf[i] == 0) return std::nullopt;
        const std::size_t since = places[placeOf[i]].front();
        const double before = pooled.front().lag, after = pooled[placeOf[i]].lag;
        result.first = since == i && !(i > 0 && steps[i - 1]);
        const std::size_t told = since > 0 && steps[since - 1] ? since - 1 : since;
        result.moved.by = after - before;
        result.moved.sinceCue = takes[told].row.cue;
        result.moved.sinceTake = takes[told].row.take;
        if (told != since) result.moved.sinceTime = steps[told]->time;
        result.moved.sentence = sentence(before, after, takeName(takes[told].row.cue, takes[told].row.take));
        return result;
    }

    static std::string secondsText(double seconds) { return std::to_string(std::lround(seconds)) + " s"; }

    static std::string sentence(double before, double after, const std::string& since)
    {
        return "Moved: the lag is " + msText(std::abs(after - before)) + (after > before ? " longer" : " shorter") +
               " (" + msText(before) + " before, " + msText(after) + " since " + since +
               "): a stand or a microphone was moved.";
    }

    void addMachines()
    {
        if (!clocks) return;
        const MeasuredTake& first = takes.front();
        MachineRecord machine;
        const std::string place = pooled.front().name;
        machine.spot = first.spotMachine.empty() ? "spot of " + place : first.spotMachine;
        machine.room = first.roomMachine.empty() ? "room of " + place : first.roomMachine;
        machine.ppm = clocks->ppm;
        machine.ppmSd = clocks->ppmSd;
        machine.takes = static_cast<int>(std::count_if(takes.begin(), takes.end(), tellsClocks));
        machine.matters = drifts;
        record.machines.push_back(machine);
    }

    const std::vector<MeasuredTake>& takes;
    std::string planned;
    HitsOf hitsOf;
    SessionRecord record;
    double longest = 0.0; // s
    std::optional<Drift> clocks;
    bool drifts = false;
    std::vector<std::optional<StepWithin>> steps; // take after take
    std::vector<std::size_t> placeOf;             // take after take
    std::vector<std::vector<std::size_t>> places; // takes of each
    std::vector<PooledPlace> pooled;              // place after place
};
} // namespace

bool MeasuredTake::isSure() const
{
    return row.own.lag && row.own.confidence >= trusted && row.own.verdict == Verdict::align;
}

SessionRecord poolTakes(const std::vector<MeasuredTake>& takes, const std::string& planned, const HitsOf& hitsOf)
{
    return Pooling(takes, planned, hitsOf).pool();
}
} // namespace tarry
