#pragma once
#include "Core/Evidence/SumFigures.h"
#include "Core/Ground/Settings.h"
#include "Core/Ground/Types.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tarry
{
/// One hit's waveforms as recorded, at the rate they are analysed at. Never changed once made, so reports share them.
struct HitWaves
{
    double rate = 48000.0;                            ///< Hz
    int onset = 0;                                    ///< index of the spot's attack
    std::vector<std::vector<float>> spot, room;       ///< side by side and channel by channel, all of one length
    std::vector<std::vector<float>> lowSpot, lowRoom; ///< the same below 250 Hz, for the low sum
};

/// What one hit said on its own.
struct HitReport
{
    double time = 0.0;         ///< s since the stream began
    std::optional<double> lag; ///< s; none where the hit shows no arrival
    Polarity polarity = Polarity::normal;
    double clearDb = 0.0;
    double weight = 0.0; ///< 0 to 1: how much the hit counted
    bool used = false;
    bool agreeing = false;                 ///< its own arrival falls with the others'
    std::shared_ptr<const HitWaves> waves; ///< of the latest hits alone; null for older ones
};

/// The lag between one spot side and one room channel.
struct PairReport
{
    int spotSide = 0;
    int roomChannel = 0;
    std::optional<double> lag; ///< s
    std::optional<Polarity> polarity;
    double confidence = 0.0;
    double clearDb = 0.0;
};

/// Which sign the arrival has in one band: below, parts of the drum and of the room may push differently.
struct BandSign
{
    double lowHz = 0.0, highHz = 0.0;
    Polarity polarity = Polarity::normal;
    double clearDb =
        0.0; ///< how far the response at the arrival stands above its other sign nearby, and above its noise
};

/// A curve over lag, or a stretch of waveform, for looking at. values[i] lies at start + i * step (seconds).
struct Curve
{
    double start = 0.0;
    double step = 0.0;
    std::vector<float> values;
};

/// A lag that could be the one, and how probable a second opinion holds it: methods that do not lean on one another.
struct CandidateLag
{
    double lag = 0.0;            ///< s
    double probability = 0.0;    ///< 0 to 1
    std::vector<double> figures; ///< what it was judged by: see Candidate::names
};

/// Everything that is known after the hits heard so far. A plain value, safe to copy between threads.
struct Report
{
    InputState input = InputState::good;
    bool clap = false; ///< measured from claps alone: one is enough
    int hitsFound = 0, hitsUsed = 0, hitsAgreeing = 0;
    int hitsUnheard = 0;  ///< sounds of the spot that the room does not answer: they say nothing and count nowhere else
    int hitsRepeated = 0; ///< the same samples again, as in a loop: counted once
    double agreeingLoudness = 0.0; ///< 0 to 1: share of what the spot hears of all hits that agrees on the lag
    int hitsLost = 0; ///< hits that could not be kept because the analysis was too far behind (real time only)

    std::optional<double> lag; ///< s, rounded to whole nanoseconds; none where no hit was found
    std::optional<Polarity> polarity;
    double confidence = 0.0; ///< 0 to 1: probability that the lag is right to within 0.5 ms
    double lookAheadNeeded =
        0.0; ///< s; above 0: the spot is later than the room, by more than the look-ahead that is set
    Verdict verdict = Verdict::unsure;
    std::vector<std::string> reasons; ///< at least one, sentences for a mixer

    double spread = 0.0;               ///< s, robust standard deviation of the used hits' own lags
    double clearDb = 0.0;              ///< how far the arrival stands above what comes before it
    std::optional<double> runnerUpLag; ///< s, the next best lag
    double runnerUpMargin = 0.0; ///< height of the runner-up against the winner's; above 1 where a later one is higher
    std::optional<double> secondCluster; ///< s, where a good share of the hits agrees on another lag
    std::optional<double> driftPpm;      ///< trend of the hits' lags over time
    double driftPpmSd = 0.0;             ///< its standard deviation
    BlendFigures blend;         ///< with the reported lag and polarity applied; for any other, blendAt (BlendFigures.h)
    double lowShare = 0.0;      ///< 0 to 1: how much of the spot's attack lies below 250 Hz
    bool signsDisagree = false; ///< the attack's first push and the low end of the sum ask for different polarities
    std::vector<BandSign> bands;       ///< from low to high, those in which the attack is heard
    std::optional<double> leakDb;      ///< dB, an electrical leak of the spot into the room that was set aside
    int spotSide = 0, roomChannel = 0; ///< which pair the lag is from

    std::vector<CandidateLag> candidates; ///< in order of lag
    std::vector<PairReport> pairs;        ///< every spot side against every room channel
    std::vector<HitReport> hits;          ///< in order of time
    Curve evidence;                       ///< likelihood-like evidence over lag, largest value 1
    std::vector<double> features;         ///< what the confidence was judged by: see Features::names
    Curve spotAttack, roomAttack;         ///< the best hit's waveforms, 0 s = the spot's attack, as recorded
};
} // namespace tarry
