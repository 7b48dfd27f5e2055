#pragma once
#include "Core/Ground/Types.h"

#include <string>
#include <string_view>
#include <vector>

/// Made-up halls with drums in them, where lag and polarity are known to the microsecond.
///
/// Every figure of a scene comes from its name, its seed and the rest of the SceneSpec: the same spec gives the same
/// samples on every run. All of it is invented; no room, player or recording is meant.
namespace tarry::hall
{
/// What to make. Whatever the caller leaves alone has a sensible default or is drawn from the seed.
struct SceneSpec
{
    std::string name = "player"; ///< one of sceneNames()
    unsigned seed = 1;
    double sampleRate = 48000.0; ///< Hz, 8000 to 192000
    int hits = 8;                ///< the player's own hits, 1 to 200 (one in `one-hit` and in `clap`, whatever is said)
    int roomChannels = 1;        ///< 1 to 8: a spaced array; channel 0 is the one that Truth::lag speaks of
    /// dB: energy of the neighbour's hits at room channel 0 against that of the player's own, over all hits and with
    /// the reverberation. What the spot hears of the neighbour follows from the distances. `neighbour`,
    /// `neighbour-low`.
    double neighbourDb = -6.0;
    double leakDb = -40.0;      ///< `leak`: gain at which the spot's signal is added to every room channel, at lag zero
    double roomNoiseDb = -58.0; ///< the hall's own noise at the room microphone, rms, dB below the loudest sample there
    double spotNoiseDb = -72.0; ///< the spot microphone's own noise, rms, dB below the loudest sample there
    double extended = 0.5;      ///< 0 to 1: how differently near and far microphones hear the drum; 0 = nearly a point
    double distance = 0.0;      ///< m from drum to room channel 0, up to 25; 0 = drawn from 5 to 13
    double t60 = 0.0;           ///< s at mid frequencies, 0.3 to 4; 0 = drawn from 1.0 to 2.4
    double temperature = -300.0; ///< degrees Celsius, -20 to 50; below -273.15 = drawn from 16 to 26
};

/// What is known of a scene. The lag is that of the first direct sound: (when the earliest direct sound from the struck
/// point reaches room channel 0) - (the same for the spot), averaged over the hits.
struct Truth
{
    bool hasOneLag = true;                ///< false in `ensemble` and `unrelated`: the right verdict is not `align`
    double lag = 0.0;                     ///< s, positive = the room is later. Meaningless unless hasOneLag
    Polarity polarity = Polarity::normal; ///< meaningless unless hasOneLag
    std::vector<double> channelLags;      ///< s, one for each room channel; channelLags[0] == lag
    std::vector<double> hitTimes;         ///< s into the files: when each own hit's direct sound reaches the spot
    std::vector<double> hitLags;          ///< s, each own hit's lag to room channel 0 (scatters with the strike point)
    std::vector<double> neighbourTimes;   ///< s: when the others' hits reach the spot (`neighbour*`, `ensemble`)
    double distance = 0.0;                ///< m from the struck point to room channel 0
    double spotDistance = 0.0;            ///< m from the struck point to the spot microphone
    double temperature = 20.0;            ///< degrees Celsius
    double humidity = 50.0;               ///< % relative
    double speedOfSound = 343.2;          ///< m/s (ISO 9613-1, dry)
    double t60 = 1.5;                     ///< s, at 500 Hz to 1 kHz
    double length = 0.0;                  ///< m, hall
    double width = 0.0;                   ///< m
    double height = 0.0;                  ///< m
    std::string instrument;               ///< in plain words
};

/// Spot and room as they would be recorded, all channels of one length, peak at most 0.9 of full scale.
struct Scene
{
    double sampleRate = 48000.0;
    std::vector<std::vector<float>> spot; ///< [channel][frame], one channel
    std::vector<std::vector<float>> room; ///< [channel][frame], SceneSpec::roomChannels of them
    Truth truth;
};

/// Makes a scene. Throws std::invalid_argument with one clear line where a name is unknown (it lists those there are)
/// or a figure is out of range. Thread-safe.
[[nodiscard]] Scene makeScene(const SceneSpec& spec);

/// The names that SceneSpec::name can take.
[[nodiscard]] const std::vector<std::string>& sceneNames();

/// One line on what the scene is; empty for an unknown name.
[[nodiscard]] std::string_view sceneSummary(std::string_view name);
} // namespace tarry::hall
