#include "Standalone/Player.h"

#include <algorithm>
#include <chrono>
#include <thread>

namespace tarry::standalone
{
Player::Player(Processor& plugin) : processor(plugin) {}

template <typename Act>
void Player::withoutAudio(Act&& act)
{
    const std::scoped_lock alone(setupLock);
    while (busy.test_and_set(std::memory_order_acquire)) std::this_thread::sleep_for(std::chrono::microseconds(200));
    act();
    setUp();
    busy.clear(std::memory_order_release);
}

void Player::prepare(double sampleRate)
{
    withoutAudio([&] { rate = sampleRate; });
}

void Player::setClips(ClipPointer spot, ClipPointer room)
{
    withoutAudio(
        [&]
        {
            spotClip.swap(spot);
            roomClip.swap(room);
        }); // the clips before are given back here, not on the audio thread
}

void Player::setLive(bool wanted, const Inputs& inputs)
{
    withoutAudio(
        [&]
        {
            live = wanted;
            chosen = inputs;
        });
}

void Player::setUp()
{
    const auto usable = [this](const ClipPointer& clip) { return clip != nullptr && clip->sampleRate == rate; };
    sources.fill(nullptr);
    lengths.fill(0);
    inputOf.fill(-1);
    std::int64_t longest = 0;
    if (live)
    {
        spotChannels = chosen.spot[1] < 0 ? 1 : 2;
        roomChannels = chosen.room[1] < 0 ? 1 : 2;
        for (int i = 0; i < spotChannels + roomChannels; ++i)
            inputOf[static_cast<std::size_t>(i)] = i < spotChannels
                                                       ? chosen.spot[static_cast<std::size_t>(i)]
                                                       : chosen.room[static_cast<std::size_t>(i - spotChannels)];
    }
    else
    {
        spotChannels = spotClip ? spotClip->info.channels : 1;
        roomChannels = roomClip ? roomClip->info.channels : 1;
        std::size_t at = 0;
        const auto add = [&](const ClipPointer& clip, int channels)
        {
            for (std::size_t i = 0; i < static_cast<std::size_t>(channels); ++i, ++at)
            {
                if (!usable(clip)) continue;
                sources[at] = clip->channels[i].data();
                lengths[at] = clip->frames();
                longest = std::max(longest, clip->frames());
            }
        };
        add(spotClip, spotChannels);
        add(roomClip, roomChannels);
    }
    head.prepare(rate, longest);

    auto layout = processor.getBusesLayout();
    const auto spotSet = juce::AudioChannelSet::canonicalChannelSet(spotChannels);
    layout.inputBuses.set(0, spotSet);
    layout.inputBuses.set(1, juce::AudioChannelSet::canonicalChannelSet(roomChannels));
    layout.outputBuses.set(0, spotSet);
    const bool accepted = processor.setBusesLayout(layout);
    jassert(accepted); // mono and stereo in every mix
    juce::ignoreUnused(accepted);
    processor.setRateAndBufferSizeDetails(rate, piece);
    processor.prepareToPlay(rate, piece);
    speakersStep = static_cast<float>(1.0 / (0.02 * rate)); // 20 ms from silence to full
    speakersNow = 0.0F;
}

void Player::process(const float* const* inputs, int inputCount, float* const* outputs, int outputCount,
                     int frames) noexcept
{
    if (busy.test_and_set(std::memory_order_acquire)) // somebody sets up: nothing here is audio's for now
    {
        for (int channel = 0; channel < outputCount; ++channel)
            if (outputs[channel] != nullptr) std::fill_n(outputs[channel], frames, 0.0F);
        return;
    }
    for (int from = 0; from < frames; from += piece)
    {
        const int n = std::min(piece, frames - from);
        bool sounds = true;
        if (live.load(std::memory_order_relaxed))
            fillFromInputs(inputs, inputCount, from, n);
        else
            sounds = fillFromClips(n);
        if (sounds)
        {
            block.setDataToReferTo(buffer.getArrayOfWritePointers(), spotChannels + roomChannels, n);
            const juce::ScopedTryLock hold(processor.getCallbackLock()); // whoever holds it is about to suspend
            if (!hold.isLocked() || processor.isSuspended())
                block.clear();
            else
                processor.processBlock(block, noMidi);
        }
        toSpeakers(outputs, outputCount, from, n, sounds);
    }
    busy.clear(std::memory_order_release);
}

bool Player::fillFromClips(int frames) noexcept
{
    if (!head.begin()) return false;
    const auto channels = static_cast<std::size_t>(spotChannels + roomChannels);
    auto* const* targets = buffer.getArrayOfWritePointers();
    for (int k = 0; k < frames; ++k)
    {
        const auto step = head.next();
        for (std::size_t i = 0; i < channels; ++i)
            targets[i][k] = step.at >= 0 && step.at < lengths[i] ? step.gain * sources[i][step.at] : 0.0F;
    }
    head.end();
    return true;
}

void Player::fillFromInputs(const float* const* inputs, int inputCount, int from, int frames) noexcept
{
    for (int i = 0; i < spotChannels + roomChannels; ++i)
    {
        const int input = inputOf[static_cast<std::size_t>(i)];
        const float* source = input >= 0 && input < inputCount ? inputs[input] : nullptr;
        if (source != nullptr)
            std::copy_n(source + from, frames, buffer.getWritePointer(i));
        else
            std::fill_n(buffer.getWritePointer(i), frames, 0.0F);
    }
}

void Player::toSpeakers(float* const* outputs, int outputCount, int from, int frames, bool sounds) noexcept
{
    const float wanted = speakers.load(std::memory_order_relaxed);
    const auto* const* spot = buffer.getArrayOfReadPointers();
    for (int k = 0; k < frames; ++k)
    {
        speakersNow += std::clamp(wanted - speakersNow, -speakersStep, speakersStep);
        float left = 0.0F, right = 0.0F;
        if (sounds)
        {
            left = speakersNow * spot[0][k];
            right = spotChannels > 1 ? speakersNow * spot[1][k] : left;
        }
        if (outputCount == 1) left = right = 0.5F * (left + right);
        for (int channel = 0; channel < outputCount; ++channel)
            if (outputs[channel] != nullptr)
                outputs[channel][from + k] = channel == 0 ? left : channel == 1 ? right : 0.0F;
    }
}
} // namespace tarry::standalone
