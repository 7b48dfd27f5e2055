#include "Files/SheetWords.h"

#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("sheet words: nobody is ever 100 % sure, and nothing is rounded up")
{
    CHECK(confidenceWords(1.0) == "over 99 %");
    CHECK(confidenceWords(0.9951) == "over 99 %");
    CHECK(confidenceWords(0.99) == "99 %");
    CHECK(confidenceWords(0.8999) == "89 %");
    CHECK(confidenceWords(0.29) == "29 %"); // 100 * 0.29 is a little below 29
    CHECK(confidenceWords(0.0) == "0 %");
}

TEST_CASE("sheet words: a spot is called by its instrument, or by its file")
{
    SessionRow row;
    row.cue = "1m1";
    row.spotFile = "a.b/low tom.close.wav";
    CHECK(spotName(row) == "low tom.close");
    CHECK(rowName(row) == "cue 1m1: low tom.close");
    row.take = "3";
    row.instrument = "low tom";
    CHECK(rowName(row) == "cue 1m1, take 3: low tom");
    row.instrument.clear();
    row.spotFile = ".wav";
    CHECK(spotName(row) == ".wav");
}

TEST_CASE("sheet words: figures with their units")
{
    CHECK(msWords(0.031084123) == "31.084 ms");
    CHECK(signedMsWords(-0.00031) == "\xE2\x88\x92"
                                     "0.31 ms");
    CHECK(dbWords(2.64) == "+2.6 dB");
    CHECK(rateWords(44100) == "44.1 kHz");
    CHECK(rateWords(48000) == "48 kHz");
    CHECK(rateWords(88250) == "88.25 kHz");
    CHECK(chanceWords(0.00001) == "p < 0.0001");
    CHECK(plural(1, "hit") == "1 hit");
    CHECK(plural(0, "hit") == "0 hits");
}
