#pragma once
#include "Plugin/Processor.h"
#include "Standalone/Clip.h"
#include "Standalone/Cursor.h"

#include <array>
#include <mutex>

namespace tarry::standalone
{
/// Which of the device's inputs feed the spot and the room, counted from 0; second < 0: mono.
struct Inputs
{
    std::array<int, 2> spot{0, 1};
    std::array<int, 2> room{2, 3};

    bool operator==(const Inputs&) const = default;
};

/// Plays two clips, or live inputs, through the plugin's own processor to the speakers. Whoever has a clock calls
/// `process`: a sound device, or the silent clock where there is none. Setting up takes the processor away from audio
/// for a moment, in which audio puts out silence and does not wait.
class Player
{
public:
    /// The processor outlives the player.
    explicit Player(Processor& processor);

    // Setting up. Any thread but audio; these allocate and lock.

    void prepare(double sampleRate); ///< Hz of the clock
    /// Either may be missing. Clips of another rate than the clock's stay silent. Stands at the start, at rest.
    void setClips(ClipPointer spot, ClipPointer room);
    void setLive(bool live, const Inputs& inputs);

    [[nodiscard]] Cursor& cursor() noexcept { return head; }
    [[nodiscard]] const Cursor& cursor() const noexcept { return head; }
    [[nodiscard]] bool isLive() const noexcept { return live; } // [screen]
    /// Linear gain from the processor to the speakers; moves without a click. [screen]
    void setSpeakers(float gain) noexcept { speakers.store(gain, std::memory_order_relaxed); }

    /// Missing outputs are left out; more than two stay silent; pointers may be null. [audio]
    void process(const float* const* inputs, int inputCount, float* const* outputs, int outputCount,
                 int frames) noexcept;

private:
    static constexpr int piece = 512; // frames given to the processor at a time
    static constexpr int mostChannels = 4;

    void setUp(); // with setupLock held and audio kept out
    template <typename Act>
    void withoutAudio(Act&& act);
    bool fillFromClips(int frames) noexcept;
    void fillFromInputs(const float* const* inputs, int inputCount, int from, int frames) noexcept;
    void toSpeakers(float* const* outputs, int outputCount, int from, int frames, bool sounds) noexcept;

    Processor& processor;
    std::mutex setupLock;
    std::atomic_flag busy; // audio tries it once a block; whoever sets up holds it

    double rate = 48000.0; // Hz
    ClipPointer spotClip, roomClip;
    std::atomic<bool> live{false};
    Inputs chosen;

    // Audio only, once set up.
    Cursor head;
    int spotChannels = 1, roomChannels = 1;
    std::array<const float*, mostChannels> sources{}; // of the clips, spot before room
    std::array<std::int64_t, mostChannels> lengths{};
    std::array<int, mostChannels> inputOf{};
    juce::AudioBuffer<float> buffer{mostChannels, piece}, block; // block: the part of it in use
    juce::MidiBuffer noMidi;
    std::atomic<float> speakers{1.0F};
    float speakersNow = 0.0F, speakersStep = 1.0F;
};
} // namespace tarry::standalone
