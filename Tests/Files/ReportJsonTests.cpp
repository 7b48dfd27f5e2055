#include "Files/ReportJson.h"

#include "Core/Acoustics.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

using namespace tarry;

namespace
{
Measurement someMeasurement()
{
    Measurement measurement;
    measurement.spot = {"spot.wav", 1, 48000, 480000, 0, {}};
    measurement.room = {"room.wav", 2, 96000, 960000, 0, {}};
    auto& report = measurement.report;
    report.lag = 0.031083917;
    report.polarity = Polarity::inverted;
    report.confidence = 0.98;
    report.verdict = Verdict::align;
    report.reasons = {"Eight of nine hits agree."};
    report.hitsFound = 9;
    report.hitsUsed = 8;
    report.hitsAgreeing = 8;
    report.hits.resize(2);
    report.hits[0].time = 1.5;
    report.hits[0].lag = 0.0311;
    report.hits[0].used = true;
    return measurement;
}

std::vector<std::string> keysOf(const nlohmann::json& json)
{
    std::vector<std::string> keys;
    for (const auto& [key, value] : json.items()) keys.push_back(key);
    return keys;
}
} // namespace

TEST_CASE("the report has the keys of the contract, with the right kinds of value")
{
    const auto json = nlohmann::json::parse(toJson(someMeasurement()));
    for (const char* key :
         {"tarry",         "spot",    "room",           "lag_ms",     "lag_samples", "polarity",   "confidence",
          "verdict",       "reasons", "hits",           "spread_ms",  "clarity_db",  "distance_m", "distance_ft",
          "temperature_c", "flam_ms", "attack_gain_db", "low_sum_db", "drift_ppm",   "each_hit"})
    {
        INFO(key);
        CHECK(json.contains(key));
    }
    CHECK(keysOf(json["room"]) == std::vector<std::string>{"channels", "file", "frames", "sample_rate"});
    CHECK(json["room"]["sample_rate"] == 96000);
    CHECK(json["polarity"] == "inverted");
    CHECK(json["verdict"] == "align");
    CHECK(json["hits"]["found"] == 9);
    CHECK(json["drift_ppm"].is_null());
    CHECK(json["distance_m"].get<double>() == Approx(distanceOf(0.031083917, 20.0)).margin(0.001));
    CHECK(json["each_hit"][0]["lag_ms"] == 31.1);
    CHECK(json["each_hit"][1]["lag_ms"].is_null());
    CHECK(json["each_hit"][1]["polarity"].is_null());
}

TEST_CASE("lag_ms has every digit: read back it is the lag itself, for any whole nanosecond")
{
    auto measurement = someMeasurement();
    unsigned state = 1;
    for (int i = 0; i < 2000; ++i)
    {
        state = state * 1664525U + 1013904223U;
        const double nanoseconds = static_cast<double>(state % 300000000U) - 100000000.0;
        measurement.report.lag = nanoseconds / 1e9;
        const auto json = nlohmann::json::parse(toJson(measurement));
        REQUIRE(wholeNanoseconds(json["lag_ms"].get<double>() / 1e3) == *measurement.report.lag);
        REQUIRE(json["lag_samples"].get<double>() == Approx(nanoseconds * 48000e-9).margin(1e-9));
    }
}

TEST_CASE("where nothing was found lag, polarity and distance are null, and the reason is there")
{
    Measurement measurement = someMeasurement();
    measurement.report = {};
    measurement.report.reasons = {"No hits were found in the spot."};
    const auto json = nlohmann::json::parse(toJson(measurement));
    for (const char* key : {"lag_ms", "lag_samples", "polarity", "distance_m", "distance_ft"})
    {
        INFO(key);
        CHECK(json[key].is_null());
    }
    CHECK(json["verdict"] == "unsure");
    CHECK(json["reasons"].size() == 1);
}

TEST_CASE("a file name that is not UTF-8 does not stop the report")
{
    Measurement measurement = someMeasurement();
    measurement.spot.file = "gro\xDF.wav";
    CHECK_NOTHROW(nlohmann::json::parse(toJson(measurement)));
}
