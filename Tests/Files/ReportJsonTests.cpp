#include "Files/ReportJson.h"

#include "Core/Ground/Acoustics.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

using namespace tarry;

namespace
{
Measurement someMeasurement()
{
    Measurement measurement;
    measurement.spot = {"spot.wav", 1, 48000, 480000, 0, {}, {}, {}};
    measurement.room = {"room.wav", 2, 96000, 960000, 0, {}, {}, {}};
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
    report.pairs = {{0, 0, 0.0312, Polarity::inverted, 0.95, 20.0}, {0, 1, {}, {}, 0.0, 0.0}};
    report.bands = {{60.0, 250.0, Polarity::inverted, 14.26}, {1000.0, 4000.0, Polarity::normal, 7.0}};
    report.runnerUpLag = 0.036;
    report.runnerUpMargin = 0.25;
    report.lowShare = 0.6;
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
         {"tarry",       "build",         "spot",    "room",           "lag_ms",     "lag_samples", "polarity",
          "confidence",  "verdict",       "reasons", "hits",           "spread_ms",  "clear_db",    "distance_m",
          "distance_ft", "temperature_c", "flam_ms", "attack_gain_db", "low_sum_db", "drift_ppm",   "each_hit"})
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

TEST_CASE("what a lag was judged by: each pair, each band, the next best, leak, drift")
{
    auto measurement = someMeasurement();
    auto json = nlohmann::json::parse(toJson(measurement));
    REQUIRE(json["pairs"].size() == 2);
    CHECK(json["pairs"][0]["room_channel"] == 1);
    CHECK(json["pairs"][0]["lag_ms"] == 31.2);
    CHECK(json["pairs"][1]["lag_ms"].is_null());
    CHECK(json["pairs"][1]["polarity"].is_null());
    REQUIRE(json["bands"].size() == 2);
    CHECK(json["bands"][0] ==
          nlohmann::json::parse(R"({"low_hz": 60.0, "high_hz": 250.0, "polarity": "inverted", "clear_db": 14.3})"));
    CHECK(json["runner_up"]["lag_ms"] == 36.0);
    CHECK(json["runner_up"]["share"] == 0.25);
    CHECK(json["low_share"] == 0.6);
    for (const char* key : {"second_lag_ms", "leak_db", "drift_ppm", "drift_ppm_sd"})
    {
        INFO(key);
        CHECK(json[key].is_null());
    }
    measurement.report.secondCluster = 0.04;
    measurement.report.leakDb = -40.04;
    measurement.report.driftPpm = 3.5;
    measurement.report.driftPpmSd = 0.25;
    json = nlohmann::json::parse(toJson(measurement));
    CHECK(json["second_lag_ms"] == 40.0);
    CHECK(json["leak_db"] == -40.0);
    CHECK(json["drift_ppm"] == 3.5);
    CHECK(json["drift_ppm_sd"] == 0.25);
}

TEST_CASE("the tape: its keys are there when a distance was given, and the lag is the same")
{
    auto measurement = someMeasurement();
    CHECK_FALSE(nlohmann::json::parse(toJson(measurement)).contains("taped_m"));
    measurement.taped = 10.668; // 35 ft
    const auto json = nlohmann::json::parse(toJson(measurement));
    CHECK(json["taped_m"] == 10.668);
    CHECK(json["tape_agrees"] == true);
    // 35 ft at 20 degrees: 31.084 ms (343.2 m/s, ISO 9613-1, from memory)
    CHECK(json["tape_difference_ms"].get<double>() == Approx(31.083917 - 10.668 / 0.3432).margin(1e-5));
    CHECK(json["lag_ms"] == 31.083917);
    measurement.taped = 12.0;
    CHECK(nlohmann::json::parse(toJson(measurement))["tape_agrees"] == false);
    measurement.report.lag.reset();
    CHECK(nlohmann::json::parse(toJson(measurement))["tape_agrees"].is_null());
}

TEST_CASE("a late spot has no distance")
{
    auto measurement = someMeasurement();
    measurement.report.lag = -0.0052;
    const auto json = nlohmann::json::parse(toJson(measurement));
    CHECK(json["lag_ms"] == -5.2);
    CHECK(json["distance_m"].is_null());
    CHECK(json["distance_ft"].is_null());
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
