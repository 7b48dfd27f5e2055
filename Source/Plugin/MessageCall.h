#pragma once
#include <juce_events/juce_events.h>

#include <functional>

namespace tarry
{
/// A call on JUCE's message thread, made once however often it was asked for meanwhile. Unlike juce::AsyncUpdater it
/// may end on any thread: a host ends an LV2 on a thread of its own, while the message thread is JUCE's.
class MessageCall
{
public:
    explicit MessageCall(std::function<void()> toMake);
    ~MessageCall();
    MessageCall(const MessageCall&) = delete;
    MessageCall& operator=(const MessageCall&) = delete;
    MessageCall(MessageCall&&) = delete;
    MessageCall& operator=(MessageCall&&) = delete;

    /// Any thread but audio, unless it renders offline: JUCE locks its queue.
    void ask();
    /// From now on no call is made; waits for one that another thread is just making. Any thread.
    void end();

private:
    class Message;
    juce::ReferenceCountedObjectPtr<Message> message; // the queue may hold it for longer
};
} // namespace tarry
