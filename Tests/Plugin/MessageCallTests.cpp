#include "Plugin/Processor.h"
#include "Support/Catch.h"

#include <atomic>
#include <chrono>
#include <memory>
#include <thread>

using namespace tarry;

namespace
{
/// A host that is being told of a value for as long as nothing else happens, 0.3 s at most.
class SlowListener : public juce::AudioProcessorListener
{
public:
    std::atomic<bool> inside{false}, gone{false};
    bool wentMeanwhile = false; ///< the plugin ended while it was telling

    void audioProcessorParameterChanged(juce::AudioProcessor*, int, float) override
    {
        if (inside.exchange(true)) return;
        const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(300);
        while (!gone && std::chrono::steady_clock::now() < until)
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        wentMeanwhile = gone;
    }
    void audioProcessorChanged(juce::AudioProcessor*, const ChangeDetails&) override {}
};
} // namespace

// JUCE's own thread is the message thread of an LV2, and the host ends the instance on another.
TEST_CASE("a plugin that ends waits for what its host is just being told")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    SlowListener host;
    auto processor = std::make_unique<Processor>();
    processor->setCurrentProgram(1); // what it has set is told anew from the message loop
    processor->addListener(&host);
    std::thread ending(
        [&]
        {
            while (!host.inside) std::this_thread::yield();
            processor.reset();
            host.gone = true;
        });
    juce::MessageManager::getInstance()->runDispatchLoopUntil(50);
    ending.join();
    CHECK_FALSE(host.wentMeanwhile);
    CHECK(host.gone);
}
