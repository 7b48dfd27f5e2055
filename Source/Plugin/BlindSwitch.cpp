#include "Plugin/BlindSwitch.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <thread>
#include <utility>

namespace tarry
{
namespace
{
constexpr double ringSeconds = 2.0; // the worker comes by every 50 ms or so
}

/// Holds `busy`: audio tries once, the others wait for the microseconds that audio needs.
class BlindSwitch::Hold
{
public:
    explicit Hold(std::atomic_flag& flagToHold) : flag(flagToHold)
    {
        while (flag.test_and_set(std::memory_order_acquire)) std::this_thread::sleep_for(std::chrono::microseconds(50));
    }
    ~Hold() { flag.clear(std::memory_order_release); }
    Hold(const Hold&) = delete;
    Hold& operator=(const Hold&) = delete;
    Hold(Hold&&) = delete;
    Hold& operator=(Hold&&) = delete;

private:
    std::atomic_flag& flag;
};

// --------------------------------------------------------------------------------------- setup and screen

void BlindSwitch::prepare(const BlendShape& shapeNow)
{
    const std::scoped_lock guard(setupLock);
    const Hold hold(busy);
    form = shapeNow;
    meter.reset();
    running.store(false);
    matched.store(false);
    wanted = current = {};
    seen = requests.load();
    move = Move::open;
    dip = lift = std::max(1, static_cast<int>(std::lround(dipSeconds * form.sampleRate)));
}

void BlindSwitch::setLookAhead(double seconds)
{
    const std::scoped_lock guard(setupLock);
    form.lookAhead = seconds;
}

void BlindSwitch::start(const ComparedBlends& blends)
{
    const std::scoped_lock guard(setupLock);
    meter.emplace(form, blends);
    const auto frames = std::llround(ringSeconds * form.sampleRate);
    std::vector<std::vector<float>> fresh(static_cast<std::size_t>(form.spotChannels + form.roomChannels),
                                          std::vector<float>(static_cast<std::size_t>(frames)));
    latest = used = {};
    matched.store(false);
    left.store(firstSeconds, std::memory_order_relaxed);
    const Hold hold(busy);
    std::swap(ring, fresh); // the old one is freed after `hold` is let go: audio never goes without for long
    ringFrames = frames;
    written.store(0);
    taken.store(0);
    wanted.blends = blends;
    running.store(true, std::memory_order_release);
}

void BlindSwitch::hear(bool aligned, bool fresh)
{
    const std::scoped_lock guard(setupLock);
    if (!isRunning() || !isMatched()) return;
    if (fresh) used = latest;
    const Hold hold(busy);
    wanted.engaged = true;
    wanted.aligned = aligned;
    wanted.level = aligned ? used.first : used.second;
    requests.fetch_add(1, std::memory_order_release);
}

void BlindSwitch::stop()
{
    const std::scoped_lock guard(setupLock);
    if (!isRunning()) return;
    meter.reset();
    const Hold hold(busy);
    running.store(false, std::memory_order_release);
    if (wanted.engaged) requests.fetch_add(1, std::memory_order_release);
    wanted.engaged = false;
    wanted.level = 1.0;
}

std::optional<double> BlindSwitch::loudnessDifference() const
{
    const std::scoped_lock guard(setupLock);
    return isMatched() ? std::optional(latest.difference) : std::nullopt;
}

// --------------------------------------------------------------------------------------------------- worker

void BlindSwitch::work()
{
    if (!isRunning()) return;
    const std::scoped_lock guard(setupLock);
    if (!isRunning() || !meter) return;
    const auto end = written.load(std::memory_order_acquire);
    auto at = taken.load(std::memory_order_relaxed);
    while (at < end)
    {
        const auto place = at % ringFrames;
        const auto count = std::min({end - at, ringFrames - place, std::int64_t{BlendMeter::maxFrames}});
        std::array<const float*, maxSpotChannels> spot{}, room{};
        for (std::size_t i = 0; i < ring.size(); ++i)
        {
            const auto spots = static_cast<std::size_t>(form.spotChannels);
            (i < spots ? spot[i] : room[i - spots]) = ring[i].data() + place;
        }
        meter->add(spot.data(), room.data(), static_cast<int>(count));
        at += count;
        taken.store(at, std::memory_order_release);
    }
    left.store(std::max(0.0, firstSeconds - meter->heard()), std::memory_order_relaxed);
    if (meter->heard() < firstSeconds) return;
    if (const auto match = meter->match()) // else too quiet yet
    {
        latest = *match;
        matched.store(true, std::memory_order_release);
    }
}

// ---------------------------------------------------------------------------------------------------- audio

void BlindSwitch::beSilent() noexcept
{
    silence = static_cast<int>(silenceSeconds * form.sampleRate);
    move = Move::silent;
}

BlindSwitch::Now BlindSwitch::advance(int frames, bool possible, bool atOnce) noexcept
{
    if (!possible && atOnce)
    {
        move = Move::open;
        lift = dip;
        if (current.engaged) seen = requests.load(std::memory_order_acquire) - 1; // heard when it is possible again
        current = {};
        return {};
    }
    // What was asked for while it is not possible is heard when it is possible again.
    const bool news = possible ? seen != requests.load(std::memory_order_acquire) : current.engaged;
    if (move == Move::open && news) move = Move::closing;
    if (move == Move::closing && lift == 0 && !possible)
    {
        current = {};
        seen = requests.load(std::memory_order_acquire) - 1; // and so is this
        beSilent();
    }
    else if (move == Move::closing && lift == 0 && !busy.test_and_set(std::memory_order_acquire))
    {
        current = wanted;
        seen = requests.load(std::memory_order_relaxed);
        busy.clear(std::memory_order_release);
        beSilent();
    }
    else if (move == Move::silent && (silence -= frames) <= 0)
        move = Move::opening;
    else if (move == Move::opening && lift == dip)
        move = Move::open;
    return {current.engaged, current.aligned, &current.blends};
}

void BlindSwitch::record(const std::array<float*, maxSpotChannels>& spot,
                         const std::array<float*, maxSpotChannels>& room, int frames) noexcept
{
    if (!isRunning()) return;
    if (busy.test_and_set(std::memory_order_acquire)) return; // it is being begun or ended
    const auto at = written.load(std::memory_order_relaxed);
    // Where the worker is behind, this stretch goes unmeasured.
    if (isRunning() && at + frames - taken.load(std::memory_order_acquire) <= ringFrames)
    {
        const auto place = at % ringFrames;
        const auto first = std::min<std::int64_t>(frames, ringFrames - place);
        for (std::size_t i = 0; i < ring.size(); ++i)
        {
            const auto spots = static_cast<std::size_t>(form.spotChannels);
            const float* from = i < spots ? spot[i] : room[i - spots];
            std::copy_n(from, first, ring[i].data() + place);
            std::copy_n(from + first, frames - first, ring[i].data());
        }
        written.store(at + frames, std::memory_order_release);
    }
    busy.clear(std::memory_order_release);
}

void BlindSwitch::shape(const std::array<float*, maxSpotChannels>& output, int frames) noexcept
{
    const bool down = move == Move::closing || move == Move::silent;
    if (!down && lift == dip && current.level == 1.0) return;
    for (std::size_t k = 0; k < static_cast<std::size_t>(frames); ++k)
    {
        lift = down ? std::max(0, lift - 1) : std::min(dip, lift + 1);
        // Counted in samples, not in level: the length of a dip must not tell which side was turned down.
        const double up = 0.5 - 0.5 * std::cos(std::numbers::pi * lift / dip); // no corner at either end
        const auto gain = static_cast<float>(current.level * up);
        for (std::size_t i = 0; i < static_cast<std::size_t>(form.spotChannels); ++i) output[i][k] *= gain;
    }
}
} // namespace tarry
