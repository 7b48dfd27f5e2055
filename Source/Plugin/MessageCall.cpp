#include "Plugin/MessageCall.h"

#include <atomic>
#include <mutex>
#include <utility>

namespace tarry
{
class MessageCall::Message final : public juce::CallbackMessage
{
public:
    explicit Message(std::function<void()> toMake) : call(std::move(toMake)) {}

    void messageCallback() override
    {
        const std::scoped_lock guard(lock);
        if (asked.exchange(false) && !ended) call();
    }

    const std::function<void()> call;
    std::recursive_mutex lock; // a host that is told something may deliver more messages before it returns
    std::atomic<bool> asked{false};
    bool ended = false;
};

MessageCall::MessageCall(std::function<void()> toMake) : message(new Message(std::move(toMake))) {}

MessageCall::~MessageCall()
{
    end();
}

void MessageCall::ask()
{
    if (!message->asked.exchange(true) && !message->post()) message->asked = false;
}

void MessageCall::end()
{
    const std::scoped_lock guard(message->lock);
    message->ended = true;
}
} // namespace tarry
