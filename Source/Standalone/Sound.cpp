#include "Standalone/Sound.h"

#include <algorithm>

namespace tarry::standalone
{
/// Calls the player as often as a device of its rate would. On a machine that is too busy it falls behind rather than
/// piling up work: nobody hears it.
struct Sound::SilentClock final : juce::Thread
{
    SilentClock(Player& wanted, double hertz) : juce::Thread("Tarry silent clock"), player(wanted), rate(hertz)
    {
        startThread();
    }
    ~SilentClock() override { stopThread(-1); }

    void run() override
    {
        constexpr int pause = 10;            // ms
        constexpr double mostAtOnce = 0.100; // s
        double before = juce::Time::getMillisecondCounterHiRes();
        double owed = 0.0; // frames
        while (!threadShouldExit())
        {
            wait(pause);
            const double now = juce::Time::getMillisecondCounterHiRes();
            owed += std::min((now - before) / 1e3, mostAtOnce) * rate;
            before = now;
            const int frames = static_cast<int>(owed);
            owed -= frames;
            player.process(nullptr, 0, nullptr, 0, frames);
        }
    }

    Player& player;
    double rate; // Hz
};

namespace
{
/// A machine without a JACK server is no error, but libjack would say so on standard error again and again. Its library
/// may be absent too: it is looked for by name, as JUCE does.
void silenceJack()
{
#if JUCE_LINUX
    static juce::DynamicLibrary jack("libjack.so.0"); // for good: JUCE opens the same one
    using SetErrorFunction = void (*)(void (*)(const char*));
    if (auto* found = jack.getFunction("jack_set_error_function"))
        reinterpret_cast<SetErrorFunction>(found)([](const char*) {});
#endif
}
} // namespace

Sound::Sound(Player& wanted) : player(wanted) {}

Sound::~Sound()
{
    devices.removeChangeListener(this);
    devices.removeAudioCallback(this);
    devices.closeAudioDevice();
    clock.reset();
}

void Sound::start(const juce::XmlElement* saved, bool silent)
{
    constexpr int mostInputs = 64, speakers = 2;
    if (!silent)
    {
        silenceJack();
        devices.initialise(mostInputs, speakers, saved, true); // what it says when there is none is no error here
        devices.addAudioCallback(this);
        devices.addChangeListener(this);
    }
    follow();
}

juce::String Sound::deviceName() const
{
    const auto* device = devices.getCurrentAudioDevice();
    return device != nullptr ? device->getName() : juce::String();
}

juce::StringArray Sound::inputNames() const
{
    juce::StringArray names;
    if (auto* device = devices.getCurrentAudioDevice())
    {
        const auto active = device->getActiveInputChannels();
        const auto all = device->getInputChannelNames();
        for (int i = 0; i < all.size(); ++i)
            if (active[i]) names.add(all[i]);
    }
    return names;
}

double Sound::sampleRate() const
{
    auto* device = devices.getCurrentAudioDevice();
    return device != nullptr ? device->getCurrentSampleRate() : silentRate;
}

void Sound::setSilentRate(double hertz)
{
    if (hertz == silentRate) return;
    silentRate = hertz;
    if (clock == nullptr) return;
    clock.reset();
    follow();
}

void Sound::follow()
{
    if (hasDevice())
        clock.reset();
    else if (clock == nullptr)
    {
        player.prepare(silentRate);
        clock = std::make_unique<SilentClock>(player, silentRate);
    }
    if (onChange) onChange();
}

void Sound::audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount, float* const* outputs,
                                             int outputCount, int frames, const juce::AudioIODeviceCallbackContext&)
{
    player.process(inputs, inputCount, outputs, outputCount, frames);
}

void Sound::audioDeviceAboutToStart(juce::AudioIODevice* device)
{
    clock.reset(); // two clocks would play twice as fast
    player.prepare(device->getCurrentSampleRate());
}
} // namespace tarry::standalone
