#include "Files/ReportJson.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/JsonValues.h"
#include "Core/Ground/Version.h"
#include "Files/MeasuredRecall.h"

namespace tarry
{
namespace
{
using Json = nlohmann::ordered_json;

Json msOrNull(const std::optional<double>& seconds)
{
    return orNull<Json>(seconds, inMs);
}

Json numberOrNull(const std::optional<double>& value, int digits)
{
    return orNull<Json>(value, [digits](double each) { return rounded(each, digits); });
}

Json nameOrNull(const std::optional<Polarity>& polarity)
{
    return orNull<Json>(polarity, [](Polarity each) { return nameOf(each); });
}

Json describe(const AudioInfo& info)
{
    return {{"file", info.file.string()},
            {"channels", info.channels},
            {"sample_rate", info.sampleRate},
            {"frames", info.frames}};
}

Json describe(const HitReport& hit)
{
    return {{"time_s", rounded(hit.time, 9)},
            {"lag_ms", msOrNull(hit.lag)},
            {"polarity", hit.lag ? Json(nameOf(hit.polarity)) : Json(nullptr)},
            {"clear_db", rounded(hit.clearDb, 3)},
            {"used", hit.used},
            {"agreeing", hit.agreeing},
            {"weight", rounded(hit.weight, 4)}};
}

Json describe(const PairReport& pair)
{
    return {{"spot_side", pair.spotSide + 1},
            {"room_channel", pair.roomChannel + 1},
            {"lag_ms", msOrNull(pair.lag)},
            {"polarity", nameOrNull(pair.polarity)},
            {"confidence", rounded(pair.confidence, 4)},
            {"clear_db", rounded(pair.clearDb, 3)}};
}

Json describe(const BandSign& band)
{
    return {{"low_hz", band.lowHz},
            {"high_hz", band.highHz},
            {"polarity", nameOf(band.polarity)},
            {"clear_db", rounded(band.clearDb, 1)}};
}

Json describe(const Printed& printed)
{
    Json sides = Json::array();
    for (std::size_t i = 0; i < printed.sides.size(); ++i)
        sides.push_back({{"lag_ms", inMs(printed.sides[i].lag)},
                         {"polarity", nameOf(printed.sides[i].polarity)},
                         {"moved_samples", rounded(printed.samples[i], 7)}});
    return {{"file", printed.file.string()},   {"sides", sides},
            {"lean_ms", inMs(printed.lean)},   {"whole_samples", printed.wholeSamples},
            {"time_stamp", printed.timeStamp}, {"frames", printed.frames},
            {"clipped", printed.clipped}};
}

Json nullIfEmpty(const std::string& text)
{
    return text.empty() ? Json(nullptr) : Json(text);
}

Json jsonOf(const Measurement& measurement)
{
    const Report& report = measurement.report;
    const double temperature = measurement.settings.temperature;

    Json json;
    json["tarry"] = version();
    json["build"] = build();
    json["spot"] = describe(measurement.spot);
    json["room"] = describe(measurement.room);
    const Names& names = measurement.names;
    json["names"] = {{"spot", nullIfEmpty(names.spot)},
                     {"room", nullIfEmpty(names.room)},
                     {"cue", nullIfEmpty(names.cue)},
                     {"take", nullIfEmpty(names.take)},
                     {"date", nullIfEmpty(names.date)}};
    json["lag_ms"] = msOrNull(report.lag);
    json["lag_samples"] = report.lag ? Json(rounded(samplesOf(measurement, *report.lag), 7)) : Json(nullptr);
    json["polarity"] = report.lag ? nameOrNull(report.polarity) : Json(nullptr);
    json["confidence"] = rounded(report.confidence, 4);
    json["verdict"] = nameOf(report.verdict);
    json["reasons"] = report.reasons;
    json["hits"] = {{"found", report.hitsFound}, {"used", report.hitsUsed}, {"agreeing", report.hitsAgreeing}};
    json["spread_ms"] = inMs(report.spread);
    json["clear_db"] = rounded(report.clearDb, 3);
    // A late spot says nothing about the way through the air.
    const std::optional<double> distance =
        report.lag.value_or(-1.0) >= 0.0 ? std::optional(distanceOf(*report.lag, temperature)) : std::nullopt;
    json["distance_m"] = numberOrNull(distance, 3);
    json["distance_ft"] = distance ? Json(rounded(*distance / metresPerFoot, 2)) : Json(nullptr);
    json["temperature_c"] = temperature;
    // The lag beside a distance by the tape, where one was given. Positive: the lag is longer than the tape's.
    if (measurement.taped)
    {
        const auto tape = tapeCheckOf(measurement);
        json["taped_m"] = rounded(*measurement.taped, 4);
        json["tape_agrees"] = tape ? Json(tape->agrees) : Json(nullptr);
        json["tape_difference_ms"] = tape ? Json(inMs(tape->difference)) : Json(nullptr);
        json["tape"] = tapeSentence(measurement);
    }
    json["flam_ms"] = {{"before", inMs(report.blend.flamBefore)}, {"after", inMs(report.blend.flamAfter)}};
    json["attack_gain_db"] = rounded(report.blend.attackGainDb, 3);
    json["low_sum_db"] = {{"normal", rounded(report.blend.lowSumNormalDb, 3)},
                          {"inverted", rounded(report.blend.lowSumInvertedDb, 3)}};
    // How much of the spot's attack lies below 250 Hz, 0 to 1; and each band's own sign at the arrival, with how far
    // the response there stands above its other sign nearby and above its noise.
    json["low_share"] = report.lag ? Json(rounded(report.lowShare, 4)) : Json(nullptr);
    json["bands"] = Json::array();
    for (const auto& band : report.bands) json["bands"].push_back(describe(band));
    // Clocks: parts per million, positive = the room falls further behind; standard deviation.
    json["drift_ppm"] = numberOrNull(report.driftPpm, 3);
    json["drift_ppm_sd"] = report.driftPpm ? Json(rounded(report.driftPpmSd, 3)) : Json(nullptr);
    // The next best lag, its height against the winner's; above 1 where a later attack is the larger one.
    json["runner_up"] = {{"lag_ms", msOrNull(report.runnerUpLag)}, {"share", rounded(report.runnerUpMargin, 4)}};
    // Where a good share of the hits agrees on another lag.
    json["second_lag_ms"] = msOrNull(report.secondCluster);
    // Gain of an electrical leak of the spot into the room that was set aside.
    json["leak_db"] = numberOrNull(report.leakDb, 1);
    json["notes"] = measurement.notes;

    // Every spot side against every room channel, each with its own lag; counted from 1.
    json["pairs"] = Json::array();
    for (const auto& pair : report.pairs) json["pairs"].push_back(describe(pair));
    if (measurement.eachSide)
    {
        json["each_side"] = Json::array();
        for (const auto& side : alignmentOf(measurement))
            json["each_side"].push_back({{"lag_ms", inMs(side.lag)}, {"polarity", nameOf(side.polarity)}});
    }
    json["each_hit"] = Json::array();
    for (const auto& hit : report.hits) json["each_hit"].push_back(describe(hit));
    // By `tarry print`: the file that was made of it, each side as applied, lean included.
    if (measurement.printed) json["printed"] = describe(*measurement.printed);
    // To set it all again, in the plugin or with `tarry print --recall`.
    json["recall"] = recallLineOf(measurement);
    return json;
}

std::string textOf(const Json& json)
{
    // A name that is not UTF-8 must not stop the report.
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}
} // namespace

std::string toJson(const Measurement& measurement)
{
    return textOf(jsonOf(measurement));
}

std::string toJson(const AudioInfo& spot, const Printed& printed)
{
    Json json;
    json["tarry"] = version();
    json["build"] = build();
    json["spot"] = describe(spot);
    json["printed"] = describe(printed);
    return textOf(json);
}

std::string toJson(const std::vector<Measurement>& measurements)
{
    Json list = Json::array();
    for (const auto& measurement : measurements) list.push_back(jsonOf(measurement));
    return textOf(list);
}
} // namespace tarry
