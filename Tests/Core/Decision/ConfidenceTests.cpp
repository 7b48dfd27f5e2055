#include "Core/Decision/Confidence.h"

#include "Core/Decision/ConfidenceModel.h"
#include "Support/Catch.h"

#include <algorithm>
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

TEST_CASE("each term moves the confidence the way its weight points, within the range it was fitted in", "[confidence]")
{
    for (const auto& term : confidence_model::terms)
    {
        INFO(term.feature);
        const auto name = std::find(Features::names.begin(), Features::names.end(), term.feature);
        REQUIRE(name != Features::names.end()); // a figure that there is
        REQUIRE(term.deviation > 0.0);
        REQUIRE(term.low < term.high);
        const auto which = static_cast<std::size_t>(name - Features::names.begin());
        const auto at = [&](double value)
        {
            Features features;
            for (const auto& other : confidence_model::terms)
            {
                const auto k = std::find(Features::names.begin(), Features::names.end(), other.feature);
                features.values.at(static_cast<std::size_t>(k - Features::names.begin())) = other.mean;
            }
            features.values.at(which) = value;
            return confidence(features);
        };
        if (term.weight > 0.0) CHECK(at(term.high) > at(term.low));
        if (term.weight < 0.0) CHECK(at(term.high) < at(term.low));
        CHECK(at(term.high) == at(term.high + 100.0)); // nothing is made up beyond what was seen
        CHECK(at(term.low) == at(term.low - 100.0));
    }
}

TEST_CASE("features of extreme figures stay finite", "[confidence]")
{
    for (const double figure : {0.0, 1e-12, 1e12})
    {
        Agreed agreed;
        agreed.lag = agreed.stepLag = 0.03;
        agreed.responseLag = -0.03;
        agreed.height = agreed.runnerUpShare = agreed.weight = agreed.responseLead = agreed.responseClear = figure;
        for (const double x : features(agreed, {8, 8, 1.0, 1.0, figure}).values) CHECK(std::isfinite(x));
    }
}

TEST_CASE("a clear case is believed, a hopeless one is not", "[confidence]")
{
    Agreed clear;
    clear.lag = clear.stepLag = clear.responseLag = 0.031;
    clear.height = 40.0;
    clear.weight = 8.0;
    clear.runnerUpShare = 0.3;
    clear.responseClear = 30.0;
    clear.responseLead = 4.0;
    clear.refined = true;
    Agreed hopeless = clear;
    hopeless.responseLag = 0.0304;
    hopeless.height = 1.0;
    hopeless.weight = 0.3;
    hopeless.runnerUpShare = 1.0;
    hopeless.responseClear = 2.0;
    hopeless.responseLead = 1.05;
    hopeless.refined = false;
    const double high = confidence(features(clear, {8, 8, 1.0, 1.0, 2e-5})),
                 low = confidence(features(hopeless, {8, 0, 0.0, 0.0, 0.0}));
    INFO("clear " << high << ", hopeless " << low);
    CHECK(high >= 0.9);
    CHECK(low <= 0.5);
}
