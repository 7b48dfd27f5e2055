#include "Command/DrumTake.h"
#include "Hall/Scene.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

using namespace tarry;
using namespace tarry::test;
using Json = nlohmann::json;

namespace
{
constexpr int rate = 48000;

struct Tracks
{
    std::vector<double> spot, room;

    void append(const hall::Scene& scene, double gain)
    {
        for (const float x : scene.spot[0]) spot.push_back(gain * static_cast<double>(x));
        for (const float x : scene.room[0]) room.push_back(gain * static_cast<double>(x));
    }

    /// Thuds of the floor, heard well by the room and by the spot through its stand: no step in every band.
    void appendFootsteps(int count)
    {
        for (int step = 0; step < count; ++step)
            for (int i = 0; i < rate / 2; ++i)
            {
                const double t = static_cast<double>(i) / rate - 0.1;
                const double thud =
                    t < 0.0 ? 0.0 : std::sin(500.0 * t) * std::exp(-t / 0.05) * (1.0 - std::exp(-t / 0.004));
                const double late = t - 0.045;
                spot.push_back(0.6 * thud);
                room.push_back(late < 0.0 ? 0.0 : 0.2 * std::sin(500.0 * late) * std::exp(-late / 0.05));
            }
    }

    void write(const TemporaryFolder& folder) const
    {
        // A microphone's own noise: no track is digitally silent.
        auto noisy = *this;
        std::mt19937 engine(1);
        std::normal_distribution<double> noise(0.0, 3e-5);
        for (double& x : noisy.spot) x += noise(engine);
        for (double& x : noisy.room) x += noise(engine);
        makeFile(folder / "spot.wav", floatWav, 1, rate, noisy.spot);
        makeFile(folder / "room.wav", floatWav, 1, rate, noisy.room);
    }
};

hall::Scene sceneOf(const std::string& name, unsigned seed)
{
    hall::SceneSpec spec;
    spec.name = name;
    spec.seed = seed;
    spec.sampleRate = rate;
    return hall::makeScene(spec);
}

Json measure(const TemporaryFolder& folder, std::vector<std::string> options)
{
    options.insert(options.begin(), {"measure", folder / "spot.wav", folder / "room.wav", "--json", "-"});
    return Json::parse(tarryCommand(options).output);
}
} // namespace

TEST_CASE("one clap is enough: align, at its lag")
{
    const TemporaryFolder folder;
    for (const unsigned seed : {7101U, 7102U, 7103U, 7104U})
    {
        const auto clap = sceneOf("clap", seed);
        Tracks tracks;
        tracks.append(clap, 1.0);
        tracks.write(folder);
        const auto json = measure(folder, {"--clap"});
        INFO("seed " << seed << ", true lag " << clap.truth.lag * 1e3 << " ms\n" << json.dump(1));
        REQUIRE(json["lag_ms"].is_number());
        CHECK(json["lag_ms"].get<double>() == Approx(clap.truth.lag * 1e3).margin(0.5));
        CHECK(json["verdict"] == "align");
    }
}

TEST_CASE("in clap mode soft hits of another place and footsteps do not count")
{
    const TemporaryFolder folder;
    for (const unsigned seed : {7201U, 7202U, 7203U})
    {
        const auto clap = sceneOf("clap", seed);
        const auto others = sceneOf("player", seed + 50); // another hall: another lag
        REQUIRE(std::abs(others.truth.lag - clap.truth.lag) > 0.001);
        Tracks tracks;
        tracks.append(others, 0.2); // -14 dB
        tracks.appendFootsteps(3);
        tracks.append(clap, 1.0);
        tracks.appendFootsteps(2);
        tracks.append(others, 0.2);
        tracks.write(folder);

        const auto all = measure(folder, {});
        const auto alone = measure(folder, {"--clap"});
        INFO("seed " << seed << ", the clap's lag " << clap.truth.lag * 1e3 << " ms, the others' "
                     << others.truth.lag * 1e3 << " ms\n"
                     << alone.dump(1));
        CHECK(all["hits"]["used"].get<int>() > 4);
        CHECK(std::abs(all["lag_ms"].get<double>() - clap.truth.lag * 1e3) > 0.5); // else this scene shows nothing
        CHECK(alone["hits"]["used"] == 1);
        REQUIRE(alone["lag_ms"].is_number());
        CHECK(alone["lag_ms"].get<double>() == Approx(clap.truth.lag * 1e3).margin(0.5));
        CHECK(alone["verdict"] == "align");
    }
}
