#include "Core/Decision/Confidence.h"

#include "Support/Catch.h"

#include <cmath>
#include <random>

using namespace tarry;

TEST_CASE("a probability, whatever it is judged by", "[confidence]")
{
    std::mt19937 engine(1);
    std::uniform_real_distribution<double> value(-20.0, 20.0);
    for (int trial = 0; trial < 2000; ++trial)
    {
        Features features;
        for (double& x : features.values) x = value(engine);
        const double p = confidence(features);
        if (!(p >= 0.0 && p <= 1.0)) FAIL("confidence " << p << " at trial " << trial << ", seed 1");
    }
    for (const double extreme : {-1e300, 1e300})
    {
        Features features;
        features.values.fill(extreme);
        CHECK(confidence(features) >= 0.0);
        CHECK(confidence(features) <= 1.0);
    }
}

TEST_CASE("whatever speaks more for a lag never makes it less sure, and nothing is made up beyond what was seen",
          "[confidence]")
{
    std::mt19937 engine(2);
    std::uniform_real_distribution<double> value(-8.0, 8.0);
    for (int trial = 0; trial < 500; ++trial)
    {
        Features features;
        for (double& x : features.values) x = value(engine);
        for (std::size_t i = 0; i < Features::count; ++i)
        {
            INFO(Features::names.at(i) << ", trial " << trial << ", seed 2");
            Features more = features;
            more.values.at(i) += 1.0;
            CHECK(confidence(more) >= confidence(features));
            Features most = features, beyond = features;
            most.values.at(i) = 1e3;
            beyond.values.at(i) = 1e6;
            CHECK(confidence(most) == confidence(beyond));
        }
    }
}

TEST_CASE("a better hit makes the lag surer: higher, tighter, explained, borne out", "[confidence]")
{
    // Height, the response's lead and the hits' weight once had the wrong sign.
    Arrival found;
    found.lag = found.stepLag = found.responseLag = 0.031;
    found.height = 8.0;
    const Agreement agreement{8, 6, 0.8, 0.8, 0.7, 2e-4, 2e-4};
    const auto sure = [&](const Arrival& arrival, const Agreement& how, double opinion = 0.6)
    { return confidence(features(arrival, how, opinion, false)); };
    const double before = sure(found, agreement);
    Arrival higher = found;
    higher.height = 16.0;
    Agreement tighter = agreement, explained = agreement, alone = agreement;
    tighter.jitter = 1e-4;
    explained.explained = 1.0;
    alone.agreeing = 1;
    alone.jitter = 0.0; // one hit has none: no witness
    CHECK(sure(higher, agreement) > before);
    CHECK(sure(found, tighter) > before);
    CHECK(sure(found, alone) < before);
    CHECK(sure(found, explained) > before);
    CHECK(sure(found, agreement, 0.9) > before);
}

TEST_CASE("features of extreme figures stay finite", "[confidence]")
{
    for (const double figure : {0.0, 1e-12, 1e12})
    {
        Arrival found;
        found.lag = found.stepLag = 0.03;
        found.responseLag = -0.03;
        found.height = found.runnerUpShare = found.responseClear = figure;
        for (const double x : features(found, {8, 8, 1.0, 1.0, 1.0, figure, figure}, 0.5, false).values)
            CHECK(std::isfinite(x));
    }
}

TEST_CASE("a clear case is believed, a hopeless one is not", "[confidence]")
{
    Arrival clear;
    clear.lag = clear.stepLag = clear.responseLag = 0.031;
    clear.height = 40.0;
    clear.runnerUpShare = 0.3;
    clear.responseClear = 30.0;
    clear.refined = true;
    Arrival hopeless = clear;
    hopeless.responseLag = 0.0304;
    hopeless.height = 1.0;
    hopeless.runnerUpShare = 1.0;
    hopeless.responseClear = 2.0;
    hopeless.refined = false;
    const double high = confidence(features(clear, {8, 8, 1.0, 1.0, 1.0, 2e-5, 2e-5}, 0.98, false)),
                 low = confidence(features(hopeless, {8, 0, 0.0, 0.0, 0.0, 0.0, 0.0}, 0.02, false));
    INFO("clear " << high << ", hopeless " << low);
    CHECK(high >= 0.9);
    CHECK(low <= 0.5);
}
