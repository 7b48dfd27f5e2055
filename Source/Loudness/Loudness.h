#pragma once
#include <memory>
#include <optional>
#include <vector>

namespace tarry
{
/// Gated programme loudness (integrated loudness) by ITU-R BS.1770 of everything it has been given, in LUFS.
/// Allocates at every turn: never on the audio thread. [worker]
class LoudnessMeter
{
public:
    /// channels: 1, or 2 for left and right; rate: Hz. Throws std::invalid_argument for what cannot be measured.
    LoudnessMeter(int channels, double rate);

    void add(const float* const* channels, int frames);

    /// None where nothing has passed the gate at -70 LUFS: silence, or less than 0.4 s.
    [[nodiscard]] std::optional<double> integrated() const;

private:
    struct State;
    struct Destroy
    {
        void operator()(State* doomed) const noexcept;
    };
    std::unique_ptr<State, Destroy> state;
    std::vector<float> interleaved;
    int channelCount = 1;
};

/// The same of a stretch of 1 or 2 channels of equal length.
[[nodiscard]] std::optional<double> integratedLoudness(const std::vector<std::vector<float>>& channels, double rate);

/// Linear gains, neither above 1, that bring two signals to the same loudness: the louder one is turned down.
struct LoudnessMatch
{
    double first = 1.0, second = 1.0;
    double difference = 0.0; ///< LU, first less second, before matching
};
[[nodiscard]] LoudnessMatch matchLoudness(double first, double second);
} // namespace tarry
