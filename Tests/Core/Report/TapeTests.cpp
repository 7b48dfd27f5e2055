#include "Core/Report/Tape.h"

#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("35 ft by the tape expect 31.084 ms at 20 degrees and agree with it", "[tape]")
{
    const TapeCheck check = checkTape(0.031084, 35.0 * 0.3048, 20.0); // ISO 9613-1, see AcousticsTests
    CHECK(check.metres == Approx(10.668));
    CHECK(check.expected == Approx(0.031084).margin(1e-6));
    CHECK(check.difference == Approx(0.0).margin(1e-6));
    CHECK(check.agrees);
}

TEST_CASE("what air does is allowed, a wrong peak is not", "[tape]")
{
    const double at11 = 11.0 / 343.2;
    CHECK(checkTape(at11 - 0.055e-3, 11.0, 20.0).agrees);    // one degree warmer
    CHECK(checkTape(at11 + 0.055e-3, 11.0, 20.0).agrees);    // one degree colder
    CHECK(checkTape(at11 - 0.059e-3, 11.0, 20.0).agrees);    // 50 % relative humidity (Cramer 1993)
    CHECK_FALSE(checkTape(at11 + 0.003, 11.0, 20.0).agrees); // a floor bounce or more
    CHECK_FALSE(checkTape(at11 - 0.006, 11.0, 20.0).agrees); // a neighbour two metres nearer
    CHECK_FALSE(checkTape(at11 + 0.015, 11.0, 20.0).agrees);
}

TEST_CASE("the lag may be shorter than the tape by the spot's own distance, hardly longer", "[tape]")
{
    for (const double metres : {3.0, 11.0, 20.0})
    {
        const TapeCheck check = checkTape(metres / 343.2, metres, 20.0);
        CHECK(check.shorter > check.longer);
        CHECK(check.longer > 0.0);
        CHECK(checkTape((metres - 0.4) / 343.2, metres, 20.0).agrees);
        CHECK_FALSE(checkTape(check.expected + 1.01 * check.longer, metres, 20.0).agrees);
        CHECK(checkTape(check.expected + 0.99 * check.longer, metres, 20.0).agrees);
        CHECK_FALSE(checkTape(check.expected - 1.01 * check.shorter, metres, 20.0).agrees);
        CHECK(checkTape(check.expected - 0.99 * check.shorter, metres, 20.0).agrees);
    }
}
