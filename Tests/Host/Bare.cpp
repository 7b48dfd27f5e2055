// A plugin that does nothing, with the buses and the kinds of parameters of ours: what lv2_validate says of it is
// JUCE's own doing, and the yardstick for our bundle.
#include <juce_audio_processors/juce_audio_processors.h>

namespace
{
class Bare final : public juce::AudioProcessor
{
public:
    Bare()
        : juce::AudioProcessor(BusesProperties()
                                   .withInput("Spot", juce::AudioChannelSet::stereo(), true)
                                   .withInput("Room", juce::AudioChannelSet::stereo(), true)
                                   .withOutput("Spot", juce::AudioChannelSet::stereo(), true))
    {
        addParameter(new juce::AudioParameterFloat({"number", 1}, "Number", 0.0F, 1.0F, 0.0F));
    }

    void prepareToPlay(double, int) override {}
    void releaseResources() override {}
    void processBlock(juce::AudioBuffer<float>&, juce::MidiBuffer&) override {}
    using juce::AudioProcessor::processBlock;
    juce::AudioProcessorEditor* createEditor() override { return new juce::GenericAudioProcessorEditor(*this); }
    bool hasEditor() const override { return true; }
    const juce::String getName() const override { return "Bare"; }
    bool acceptsMidi() const override { return false; }
    bool producesMidi() const override { return false; }
    double getTailLengthSeconds() const override { return 0.0; }
    int getNumPrograms() override { return 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return "Default"; }
    void changeProgramName(int, const juce::String&) override {}
    void getStateInformation(juce::MemoryBlock&) override {}
    void setStateInformation(const void*, int) override {}
};
} // namespace

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    return new Bare;
}
