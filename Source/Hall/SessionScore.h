#pragma once
#include "Core/Ground/Types.h"

#include <string>
#include <vector>

/// A made-up night of recording, for `tarry session`: twelve cues of a score of ours in one hall, four spots each,
/// every spot overdubbed with the hall's microphone. In it one stand that was moved, one machine whose clock drifts,
/// one section, one broken file, one click track that leaks into a spot, and two cues that are played softly. All of it
/// is invented; the same spec gives the same samples.
namespace tarry::hall
{
struct ScoreSpec
{
    unsigned seed = 1;
    double sampleRate = 48000.0; ///< Hz, 44100 to 192000
    double seconds = 60.0;       ///< of each cue, 20 to 600
};

/// One spot of one cue, and what is known of it.
struct ScoreTake
{
    int cue = 1;
    std::string setup;            ///< "A" for the first six cues, "B" for the others
    std::string instrument;       ///< in plain words
    int stand = 0;                ///< 0 to 3
    bool soft = false;            ///< played 26 dB softer, beside the same noise
    bool moved = false;           ///< its stand is not where it stood in the setup's first takes
    bool section = false;         ///< a whole section stands in front of the spot: there is no one lag
    bool broken = false;          ///< the spot's file is to be cut short
    bool clicks = false;          ///< the player's headphones leak a click track into the spot
    double driftPpm = 0.0;        ///< positive: the room falls further behind
    double roomStartsAfter = 0.0; ///< s by which the room's machine was started after the spot's; 0: no time stamps
};

/// All takes, cue after cue.
[[nodiscard]] std::vector<ScoreTake> scoreOf(const ScoreSpec& spec);

/// A take's samples and the truth of them.
struct TakeTracks
{
    std::vector<float> spot, room; ///< one channel each
    double lag = 0.0;              ///< s, mean over the hits, both laid in time; meaningless for a section
    Polarity polarity = Polarity::normal;
    int hits = 0;
};
/// Thread-safe. Throws std::invalid_argument with one clear line for a spec out of range.
[[nodiscard]] TakeTracks recordTake(const ScoreSpec& spec, const ScoreTake& take);
} // namespace tarry::hall
