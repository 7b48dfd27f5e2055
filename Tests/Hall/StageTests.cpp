#include "Hall/Stage.h"
#include "Support/Catch.h"

using namespace tarry::hall;

namespace
{
constexpr double rate = 48000.0;

Player makePlayer()
{
    Random random(1, 1);
    Player player;
    player.drum = makeDrum(Sticks::hard, 0.0, random);
    player.place = {14.0, 8.0, 1.0};
    player.strokes = {{0.1, {0.06, 0.0, 0.0}, 1.0}};
    return player;
}

std::vector<double> heard(const Player& player, const Microphone& microphone)
{
    constexpr std::size_t size = 1U << 17U;
    Random random(2, 1);
    Enclosure hall;
    hall.t60 = 1.0;
    return signalOf(record(hall, player, {microphone}, rate, size, random).front(), size);
}
} // namespace

TEST_CASE("Stage: sound takes its way at the speed of sound", "[hall]")
{
    // ISO 9613-1 (from memory): 343.2 m/s in dry air at 20 degrees. 34.32 m take 100 ms.
    Enclosure hall;
    hall.celsius = 20.0;
    Player player = makePlayer();
    player.place = {0.0, 0.0, 0.0};
    Microphone microphone;
    microphone.place = {34.32, 0.0, 0.0};
    CHECK(directTime(hall, player, {0.0, {}, 1.0}, microphone) == Approx(0.1).epsilon(1e-9));
    CHECK(directTime(hall, player, {0.0, {0.03432, 0.0, 0.0}, 1.0}, microphone) == Approx(0.0999).epsilon(1e-9));
}

TEST_CASE("Stage: nothing is heard before the direct sound, and then at once", "[hall]")
{
    const Player player = makePlayer();
    Microphone microphone;
    microphone.place = {5.0, 7.0, 3.0};
    const auto track = heard(player, microphone);
    Enclosure hall;
    const double arrival = 0.1 + directTime(hall, player, player.strokes.front(), microphone);
    double before = 0.0;
    double after = 0.0;
    for (std::size_t i = 0; i < track.size(); ++i)
    {
        const double t = static_cast<double>(i) / rate - arrival;
        if (t < -0.7e-3) before += track[i] * track[i]; // half the length of the fractional delay
        if (t >= 0.0 && t < 2e-3) after += track[i] * track[i];
    }
    INFO("before against the first 2 ms: " << 10.0 * std::log10(before / after) << " dB, limit -60 dB");
    CHECK(before < 1e-6 * after);
}

TEST_CASE("Stage: the same hit twice as strong is 6 dB louder and otherwise the same", "[hall]")
{
    Player player = makePlayer();
    Microphone microphone;
    microphone.place = {9.0, 7.0, 3.0};
    const auto soft = heard(player, microphone);
    player.strokes.front().level = 2.0;
    const auto loud = heard(player, microphone);
    double worst = 0.0;
    double largest = 0.0;
    for (std::size_t i = 0; i < soft.size(); ++i)
    {
        worst = std::max(worst, std::abs(loud[i] - 2.0 * soft[i]));
        largest = std::max(largest, std::abs(loud[i]));
    }
    INFO("worst difference " << worst / largest << " of the peak, limit 1e-9");
    CHECK(worst < 1e-9 * largest);
}

TEST_CASE("Stage: close to a drum a cardioid lifts its lows", "[hall]")
{
    // Pressure gradient of a spherical wave: 1 + c / (j w r) for a figure of eight, half of that for a cardioid.
    // At 0.5 m and 100 Hz: |1 + 0.5 * 343 / (j 628 * 0.5)| = 1.14, so 1.1 dB; at 2 m under 0.1 dB. Here as the ratio
    // of a cardioid to a sphere at the same place, low against high.
    const auto lift = [](double away)
    {
        const Player player = makePlayer();
        Microphone sphere;
        sphere.place = {14.06 + away, 8.0, 1.001};
        Microphone cardioid = sphere;
        cardioid.hearing = {{-1.0, 0.0, 0.0}, 0.5};
        const std::size_t size = 1U << 16U;
        const auto spectra = [&](const Microphone& microphone)
        {
            auto track = heard(player, microphone);
            track.resize(static_cast<std::size_t>((0.1 + away / 343.0 + 0.005) * rate)); // before the floor answers
            return spectrumOf(track, size);
        };
        const Spectrum ratioOf = spectra(cardioid);
        const Spectrum to = spectra(sphere);
        const auto level = [&](double low, double high)
        {
            double above = 0.0;
            double below = 0.0;
            for (auto bin = static_cast<std::size_t>(low * double(size) / rate);
                 double(bin) < high * double(size) / rate; ++bin)
            {
                above += std::norm(ratioOf[bin]);
                below += std::norm(to[bin]);
            }
            return 10.0 * std::log10(above / below);
        };
        return level(80.0, 200.0) - level(2000.0, 8000.0);
    };
    const double close = lift(0.3);
    const double away = lift(0.9);
    INFO("lift at 0.3 m " << close << " dB, at 0.9 m " << away << " dB");
    CHECK(close > 1.0);
    CHECK(close > away);
}
