#include "Plugin/ReportState.h"

#include "Core/Ground/JsonValues.h"
#include "Core/Ground/Text.h"
#include "Plugin/PackedSamples.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

namespace tarry
{
namespace
{
using nlohmann::json;

constexpr std::size_t keptWaves = 2; // hits: what is told of a lag by hand is worked out from these
constexpr double keptBefore = 0.010; // s ahead of a hit's attack
constexpr double keptAfter = 0.090;  // s after its arrival: the low sum needs 60 ms

// ---------------------------------------------------------------------------------------- value by value

json encode(Polarity value)
{
    return nameOf(value);
}
json encode(Verdict value)
{
    return nameOf(value);
}

constexpr std::array<std::pair<InputState, const char*>, 4> inputNames{{{InputState::good, "good"},
                                                                        {InputState::noRoom, "no room"},
                                                                        {InputState::sameSignal, "same signal"},
                                                                        {InputState::ownSignal, "own signal"}}};

json encode(InputState value)
{
    return nameOf(value);
}

void decode(const json& from, Polarity& value)
{
    for (const auto each : {Polarity::normal, Polarity::inverted})
        if (from == nameOf(each)) value = each;
}
void decode(const json& from, Verdict& value)
{
    for (const auto each : {Verdict::align, Verdict::leave, Verdict::unsure})
        if (from == nameOf(each)) value = each;
}
void decode(const json& from, InputState& value)
{
    if (from.is_string()) value = inputNamed(from.get_ref<const std::string&>()).value_or(value);
}

json encode(bool value)
{
    return value;
}
json encode(int value)
{
    return value;
}
json encode(double value)
{
    return std::isfinite(value) ? json(value) : json(nullptr);
}
json encode(const std::vector<std::string>& value)
{
    return value;
}

void decode(const json& from, bool& value)
{
    if (from.is_boolean()) value = from.get<bool>();
}
void decode(const json& from, int& value)
{
    if (!from.is_number()) return;
    const double number = from.get<double>();
    if (number >= 0.0 && number <= 1.0e9) value = static_cast<int>(number);
}
void decode(const json& from, double& value)
{
    if (from.is_number() && std::isfinite(from.get<double>())) value = from.get<double>();
}
void decode(const json& from, std::vector<std::string>& value)
{
    if (!from.is_array()) return;
    for (const auto& each : from)
        if (each.is_string()) value.push_back(each.get<std::string>());
}

json encode(const Curve& curve)
{
    return {{"start_s", curve.start}, {"step_s", curve.step}, {"values", packSamples(curve.values)}};
}
void decode(const json& from, Curve& curve)
{
    if (!from.is_object() || !from.contains("values") || !unpackSamples(from["values"], curve.values)) return;
    decode(from.value("start_s", json()), curve.start);
    decode(from.value("step_s", json()), curve.step);
}

json encode(const std::shared_ptr<const HitWaves>& waves)
{
    if (!waves) return nullptr;
    const auto channels = [](const std::vector<std::vector<float>>& all)
    {
        json list = json::array();
        for (const auto& each : all) list.push_back(packSamples(each));
        return list;
    };
    return {{"rate_hz", waves->rate},
            {"onset", waves->onset},
            {"spot", channels(waves->spot)},
            {"room", channels(waves->room)}};
}
void decode(const json& from, std::shared_ptr<const HitWaves>& waves)
{
    if (!from.is_object()) return;
    HitWaves read;
    decode(from.value("rate_hz", json()), read.rate);
    decode(from.value("onset", json()), read.onset);
    std::size_t length = 0;
    bool whole = read.rate >= 1000.0 && read.rate <= 1e6; // no other is one that hits are kept at
    const auto channels = [&](const char* key, std::vector<std::vector<float>>& all, int most)
    {
        const auto list = from.value(key, json());
        whole = whole && list.is_array() && !list.empty() && list.size() <= static_cast<std::size_t>(most);
        if (!whole) return;
        for (const auto& each : list)
        {
            whole = whole && unpackSamples(each, all.emplace_back());
            if (length == 0) length = all.back().size();
            whole = whole && all.back().size() == length;
        }
    };
    channels("spot", read.spot, maxSpotChannels);
    channels("room", read.room, maxRoomChannels);
    if (whole && length > 0 && static_cast<std::size_t>(read.onset) < length)
        waves = std::make_shared<const HitWaves>(std::move(read));
}

template <typename Value>
json encode(const std::optional<Value>& value)
{
    return orNull<json>(value, [](const Value& each) { return encode(each); });
}
template <typename Value>
void decode(const json& from, std::optional<Value>& value)
{
    if (from.is_null()) return;
    Value read{};
    decode(from, read);
    if (encode(read) == from) value = read; // else it was of another kind
}

// ------------------------------------------------------------------------------- field by field, both ways

template <typename Io>
void fields(Io& io, BlendFigures& figures)
{
    io("flam_before_s", figures.flamBefore);
    io("flam_after_s", figures.flamAfter);
    io("attack_gain_db", figures.attackGainDb);
    io("low_sum_normal_db", figures.lowSumNormalDb);
    io("low_sum_inverted_db", figures.lowSumInvertedDb);
}
template <typename Io>
void fields(Io& io, BandSign& band)
{
    io("low_hz", band.lowHz);
    io("high_hz", band.highHz);
    io("polarity", band.polarity);
    io("clear_db", band.clearDb);
}
template <typename Io>
void fields(Io& io, PairReport& pair)
{
    io("spot_side", pair.spotSide);
    io("room_channel", pair.roomChannel);
    io("lag_s", pair.lag);
    io("polarity", pair.polarity);
    io("confidence", pair.confidence);
    io("clear_db", pair.clearDb);
}
template <typename Io>
void fields(Io& io, HitReport& hit)
{
    io("time_s", hit.time);
    io("lag_s", hit.lag);
    io("polarity", hit.polarity);
    io("clear_db", hit.clearDb);
    io("weight", hit.weight);
    io("used", hit.used);
    io("agreeing", hit.agreeing);
    io("waves", hit.waves);
}
template <typename Io>
void fields(Io& io, Report& report)
{
    io("input", report.input);
    io("clap", report.clap);
    io("hits_found", report.hitsFound);
    io("hits_used", report.hitsUsed);
    io("hits_agreeing", report.hitsAgreeing);
    io("hits_unheard", report.hitsUnheard);
    io("hits_repeated", report.hitsRepeated);
    io("hits_lost", report.hitsLost);
    io("look_ahead_needed_s", report.lookAheadNeeded);
    io("agreeing_loudness", report.agreeingLoudness);
    io("lag_s", report.lag);
    io("polarity", report.polarity);
    io("confidence", report.confidence);
    io("verdict", report.verdict);
    io("reasons", report.reasons);
    io("spread_s", report.spread);
    io("clear_db", report.clearDb);
    io("runner_up_s", report.runnerUpLag);
    io("runner_up_margin", report.runnerUpMargin);
    io("second_cluster_s", report.secondCluster);
    io("drift_ppm", report.driftPpm);
    io("drift_ppm_sd", report.driftPpmSd);
    io("blend", report.blend);
    io("low_share", report.lowShare);
    io("signs_disagree", report.signsDisagree);
    io("bands", report.bands);
    io("leak_db", report.leakDb);
    io("spot_side", report.spotSide);
    io("room_channel", report.roomChannel);
    io("pairs", report.pairs);
    io("each_hit", report.hits);
    io("evidence", report.evidence);
    io("spot_attack", report.spotAttack);
    io("room_attack", report.roomAttack);
}

class Writer
{
public:
    json made = json::object();

    template <typename Value>
    void operator()(const char* key, Value& value)
    {
        if constexpr (requires { fields(*this, value); })
        {
            Writer part;
            fields(part, value);
            made[key] = std::move(part.made);
        }
        else if constexpr (requires { fields(*this, value.front()); })
        {
            json list = json::array();
            for (auto& each : value)
            {
                Writer part;
                fields(part, each);
                list.push_back(std::move(part.made));
            }
            made[key] = std::move(list);
        }
        else
            made[key] = encode(value);
    }
};

class Reader
{
public:
    explicit Reader(const json& object) : from(object) {}

    template <typename Value>
    void operator()(const char* key, Value& value)
    {
        const auto found = from.find(key);
        if (found == from.end()) return;
        if constexpr (requires { fields(*this, value); })
        {
            if (!found->is_object()) return;
            Reader part(*found);
            fields(part, value);
        }
        else if constexpr (requires { fields(*this, value.front()); })
        {
            if (!found->is_array()) return;
            for (const auto& each : *found)
            {
                if (!each.is_object()) continue;
                Reader part(each);
                fields(part, value.emplace_back());
            }
        }
        else
            decode(*found, value);
    }

private:
    const json& from;
};

/// As much of a hit's waveforms as the figures and the picture need; of the room, the channel that was measured.
std::shared_ptr<const HitWaves> excerpt(const HitWaves& whole, double lag, int roomChannel)
{
    const auto samples = [&](double seconds) { return static_cast<int>(seconds * whole.rate); };
    const int size = static_cast<int>(whole.spot.front().size());
    const int from = std::clamp(whole.onset - samples(keptBefore) + samples(std::min(0.0, lag)), 0, size);
    const int to = std::clamp(whole.onset + samples(std::max(0.0, lag) + keptAfter), from, size);
    HitWaves cut{whole.rate, whole.onset - from, whole.spot, whole.room, {}, {}}; // the low band is worked out again
    for (std::size_t i = 0; i < cut.room.size(); ++i) // the others are silent: lists keep their lengths
        if (static_cast<int>(i) != roomChannel) std::fill(cut.room[i].begin(), cut.room[i].end(), 0.0F);
    for (auto* channels : {&cut.spot, &cut.room})
        for (auto& channel : *channels) channel = std::vector<float>(channel.begin() + from, channel.begin() + to);
    return std::make_shared<const HitWaves>(std::move(cut));
}
} // namespace

const char* nameOf(InputState inputs)
{
    for (const auto& [each, name] : inputNames)
        if (each == inputs) return name;
    return inputNames[0].second;
}

std::optional<InputState> inputNamed(std::string_view wanted)
{
    for (const auto& [each, name] : inputNames)
        if (wanted == name) return each;
    return std::nullopt;
}

json reportToJson(const Report& report)
{
    Report kept = report;
    std::size_t waves = 0;
    for (auto hit = kept.hits.rbegin(); hit != kept.hits.rend(); ++hit)
        if (hit->waves)
            hit->waves = hit->used && !hit->waves->spot.empty() && waves++ < keptWaves
                             ? excerpt(*hit->waves, report.lag.value_or(0.0), report.roomChannel)
                             : nullptr;
    Writer writer;
    fields(writer, kept);
    return std::move(writer.made);
}

std::optional<Report> reportFromJson(const json& from)
{
    if (!from.is_object() || !from.contains("verdict")) return std::nullopt;
    Report report;
    Reader reader(from);
    fields(reader, report);
    const bool sound = report.spotSide < maxSpotChannels && report.roomChannel < maxRoomChannels &&
                       report.lag.value_or(0.0) <= 0.3 && report.lag.value_or(0.0) >= -0.3;
    if (!sound) return std::nullopt;
    for (auto& hit : report.hits) // a room channel that is not there could not be drawn
        if (hit.waves && static_cast<std::size_t>(report.roomChannel) >= hit.waves->room.size()) hit.waves = nullptr;
    return report;
}
} // namespace tarry
