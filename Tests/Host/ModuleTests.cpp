// The built modules themselves, entered as their formats say, with a guard around every block: what JUCE's wrappers add
// is in it. TARRY_BLOCKS and TARRY_SECONDS in the environment make the long ones longer (cmake/deep-check.sh).
#include "Host/RawLv2.h"
#include "Host/RawVst3.h"
#include "Support/Catch.h"
#include "Support/HowMany.h"
#include "Support/Process.h"
#include "Support/RealtimeGuard.h"
#include "Support/Skip.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <fstream>
#include <mutex>
#include <random>
#include <sstream>
#include <thread>

using namespace tarry::host;
using namespace tarry::test;

namespace
{
std::unique_ptr<RawPlugin> load(bool isVst3)
{
    if (isVst3) return loadRawVst3(TARRY_VST3);
    return loadRawLv2(TARRY_LV2, TARRY_LV2_URI);
}

/// A drum every 130 ms in all channels, later in the room, over noise.
class Drums
{
public:
    explicit Drums(unsigned seed) : state(seed) {}

    void play(std::vector<std::vector<float>>& spot, std::vector<std::vector<float>>& room, int frames, double rate)
    {
        const auto period = static_cast<std::int64_t>(0.13 * rate), late = static_cast<std::int64_t>(0.03 * rate);
        const auto decay = static_cast<float>(std::exp(-1.0 / (0.01 * rate)));
        for (std::size_t k = 0; k < static_cast<std::size_t>(frames); ++k, ++position)
        {
            near = position % period == 0 ? 1.0F : near * decay;
            far = position % period == late ? 1.0F : far * decay;
            for (auto& channel : spot) channel[k] = noise() * (0.5F * near + 1e-3F);
            for (auto& channel : room) channel[k] = noise() * (0.1F * far + 1e-3F);
        }
    }

private:
    /// From -1 to 1: a linear congruence (Numerical Recipes' constants), as a million blocks want a fast one.
    float noise()
    {
        state = state * 1664525U + 1013904223U;
        return static_cast<float>(state >> 8) * 0x1p-23F - 1.0F;
    }

    std::uint32_t state;
    std::int64_t position = 0;
    float near = 0.0F, far = 0.0F;
};

std::vector<float*> pointers(std::vector<std::vector<float>>& channels)
{
    std::vector<float*> result;
    for (auto& channel : channels) result.push_back(channel.data());
    return result;
}

constexpr int longestBlock = 8192;

/// What no parameter reaches, as sessions hold it: look-ahead, frozen and not, a lag for each side of its own, steps of
/// undo, trials that were done.
const std::vector<std::string> sessions{
    R"({"tarry_state":2,"settings":{"lookAhead":20,"watch":1},"follow":{"phase":"measuring","held":null}})",
    R"({"tarry_state":2,"settings":{"lookAhead":5.3,"roomArrivesLate":0,"eachSide":1},"follow":{"phase":"frozen",)"
    R"("held":[{"lag_s":0.031,"polarity":"normal"},{"lag_s":-0.005,"polarity":"inverted"}],"by_hand":true}})",
    R"({"tarry_state":2,"settings":{"lookAhead":0},"follow":{"phase":"frozen","confidence":0.97,"verdict":"align",)"
    R"("held":[{"lag_s":0.03,"polarity":"inverted"},{"lag_s":0.03,"polarity":"inverted"}]},"undo":[{"what":"a lag",)"
    R"("follow":{"phase":"measuring","held":null}}],"trial":"right:12/16,p=0.0384","trials":["right:12/16,p=0.0384"]})"};
} // namespace

TEST_CASE(
    "the guard notes what is planted, in a binary loaded later too, and counts locks apart where they are allowed")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    const auto plugin = load(true);
    REQUIRE(plugin->start(48000.0, 512, 1, 1));
    int allocations = 0;
    {
        const RealtimeGuard guard(RealtimeGuard::Locks::allowed);
        (void)plugin->state(); // builds text, and is no act of audio's
        allocations = guard.count();
    }
    CHECK(allocations > 0);
}

TEST_CASE("in the built modules no block allocates, waits or touches files, whatever the host does")
{
    // Where a sanitizer owns malloc the guard notes nothing, and the sanitizer looks on instead.
    constexpr std::array rates{8000.0, 22050.0, 44100.0, 48000.0, 88200.0, 96000.0, 192000.0, 384000.0};
    const bool isVst3 = GENERATE(true, false);
    const unsigned seed = 77;
    std::mt19937 engine(seed);
    const auto upTo = [&engine](int most) { return static_cast<int>(engine() % static_cast<unsigned>(most + 1)); };
    const auto plugin = load(isVst3);
    Drums drums(seed);

    REQUIRE(plugin->start(48000.0, longestBlock, 2, 2));
    std::vector<std::string> states{plugin->state()};
    for (const auto& session : sessions)
    {
        const auto before = plugin->state();
        REQUIRE(plugin->setState(plugin->wrapped(session)));
        REQUIRE(plugin->state() != before); // it was taken
        states.push_back(plugin->wrapped(session));
    }
    int offences = 0, played = 0, mostLocks = 0, wild = 0;
    std::string first;
    std::atomic<int> loads{0};
    const int wanted = howMany("TARRY_BLOCKS", 3000);
    while (played < wanted)
    {
        const double rate = rates[static_cast<std::size_t>(upTo(static_cast<int>(rates.size()) - 1))];
        const int spots = isVst3 ? 1 + upTo(1) : 2,
                  rooms = isVst3 ? upTo(8) : 2; // a room that is refused is another draw
        if (!plugin->start(rate, longestBlock, spots, rooms)) continue;
        std::vector<std::vector<float>> spot(static_cast<std::size_t>(spots), std::vector<float>(longestBlock));
        std::vector<std::vector<float>> room(static_cast<std::size_t>(rooms), std::vector<float>(longestBlock));
        const auto spotNow = pointers(spot), roomNow = pointers(room);

        // A host loads and saves from its own thread while audio runs. LV2 lets it save so; but restore() "is in the
        // 'Instantiation' threading class [...] it MUST NOT be called concurrently with any other function on the same
        // plugin instance" (LV2 1.18, state.h), unless the plugin declares state:threadSafeRestore, which JUCE's
        // wrapper does not: there the two threads take turns.
        std::atomic<bool> done{false};
        std::mutex turn;
        std::thread other(
            [&, mine = std::mt19937(engine())]() mutable
            {
                while (!done)
                {
                    {
                        std::unique_lock exclusive(turn, std::defer_lock);
                        if (!isVst3) exclusive.lock();
                        (void)plugin->setState(states[mine() % states.size()]);
                        ++loads;
                    }
                    (void)plugin->state();
                    std::this_thread::sleep_for(std::chrono::milliseconds(1));
                }
            });
        for (int i = 0; i < 150 && played < wanted; ++i, ++played)
        {
            const int frames = std::array{
                0, 1, 32, 64, 441, 1024, upTo(longestBlock), longestBlock}[static_cast<std::size_t>(upTo(7))];
            drums.play(spot, room, frames, rate);
            for (int k = upTo(3); k > 1; --k)
                plugin->automate(upTo(plugin->parameterCount() - 1), static_cast<double>(upTo(1000)) / 1000.0);
            const std::unique_lock exclusive = isVst3 ? std::unique_lock<std::mutex>() : std::unique_lock(turn);
            const RealtimeGuard guard(RealtimeGuard::Locks::allowed);
            plugin->process(spotNow.data(), roomNow.data(), frames);
            if (guard.count() > 0 && offences++ == 0)
                first = std::string(guard.first()) + " in block " + std::to_string(played) + " of " +
                        std::to_string(frames) + " frames at " + std::to_string(rate) + " Hz, " +
                        std::to_string(spots) + "+" + std::to_string(rooms);
            mostLocks = std::max(mostLocks, guard.locks());
            for (const auto& channel : spot)
                for (int k = 0; k < frames; ++k)
                    wild += std::abs(channel[static_cast<std::size_t>(k)]) < 100.0F ? 0 : 1;
        }
        done = true;
        other.join();
        if (states.size() < 8) states.push_back(plugin->state());
    }
    INFO((isVst3 ? "VST3" : "LV2") << ", seed " << seed << ", " << played << " blocks, " << loads
                                   << " states loaded meanwhile; first: " << first << "; most locks in a block "
                                   << mostLocks);
    CHECK(loads > 10);
    CHECK(offences == 0);
    CHECK(wild == 0); // neither infinite, nor no number, nor absurd
}

TEST_CASE("in the built modules no block of the level-matched A/B allocates, waits or touches files")
{
    // A blind trial's own sound, as far as a host reaches it. Both sides are as loud once 10 s have been measured; from
    // then on a switch goes by way of the trial's dip, which is silent for 20 ms.
    constexpr int frames = 480; // 10 ms at 48 kHz
    const std::string session = R"({"tarry_state":2,"settings":{"levelMatched":1},"follow":{"phase":"frozen",)"
                                R"("held":[{"lag_s":0.03,"polarity":"normal"}]}})";
    const bool isVst3 = GENERATE(true, false);
    const auto plugin = load(isVst3);
    REQUIRE(plugin->start(48000.0, frames, 2, 2));
    std::vector<std::vector<float>> spot(2, std::vector<float>(frames)), room = spot;
    const auto spotNow = pointers(spot), roomNow = pointers(room);
    Drums drums(5);
    int offences = 0;
    std::string first;
    /// True where it was silent for 5 ms: drums over noise never are.
    const auto play = [&](int blocks)
    {
        int silent = 0, longest = 0;
        for (int i = 0; i < blocks; ++i)
        {
            drums.play(spot, room, frames, 48000.0);
            {
                const RealtimeGuard guard(RealtimeGuard::Locks::allowed);
                plugin->process(spotNow.data(), roomNow.data(), frames);
                if (guard.count() > 0 && offences++ == 0) first = guard.first();
            }
            for (const float x : spot[0]) longest = std::max(longest, silent = x == 0.0F ? silent + 1 : 0);
            std::this_thread::sleep_for(std::chrono::milliseconds(1)); // the worker follows
        }
        return longest >= 240;
    };
    REQUIRE(plugin->setState(plugin->wrapped(session)));
    plugin->automate(plugin->parameterOf("blend"), 1.0); // no session opens with it on
    (void)play(100);                                     // the delays fill
    CHECK_FALSE(play(300));
    // The worker may be late on a busy machine, and what it misses goes unmeasured.
    const auto dips = [&]
    {
        const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(120);
        bool dipped = false;
        while (!dipped && std::chrono::steady_clock::now() < until)
        {
            plugin->automate(plugin->parameterOf("blend"), 1.0);
            dipped = play(100);
        }
        (void)play(50); // the rest of the dip
        return dipped;
    };
    REQUIRE(dips()); // matched: the match itself comes in by the first one
    for (const double aligned : {0.0, 1.0, 0.0})
    {
        plugin->automate(plugin->parameterOf("aligned"), aligned);
        CHECK(dips());
        CHECK_FALSE(play(50)); // and no second one
    }
    INFO((isVst3 ? "VST3" : "LV2") << ", first: " << first);
    CHECK(offences == 0);
}

TEST_CASE("VST3: every spot with every room, in any order, and no spot of three channels")
{
    const auto plugin = loadRawVst3(TARRY_VST3);
    std::vector<std::vector<float>> spot(2, std::vector<float>(64, 0.1F)), room(8, std::vector<float>(64, 0.1F));
    const auto spotNow = pointers(spot), roomNow = pointers(room);
    for (const int rooms : {2, 0, 1, 2, 1, 0, 8, 3, 0, 6, 4, 7, 5, 8, 1})
        for (const int spots : {2, 1, 2})
        {
            INFO(spots << " + " << rooms);
            REQUIRE(plugin->start(48000.0, 64, spots, rooms));
            plugin->process(spotNow.data(), roomNow.data(), 64);
        }
    CHECK_FALSE(plugin->start(48000.0, 64, 3, 2));
}

TEST_CASE("what an instance saves, a new one saves again, whatever was turned")
{
    for (const bool isVst3 : {true, false})
    {
        std::mt19937 engine(9);
        const auto first = load(isVst3), second = load(isVst3);
        REQUIRE(first->start(48000.0, 64, 2, 2));
        REQUIRE(second->start(48000.0, 64, 2, 2));
        std::vector<std::vector<float>> spot(2, std::vector<float>(64)), room = spot;
        const auto spotNow = pointers(spot), roomNow = pointers(room);
        for (int i = 0; i < 200; ++i)
        {
            first->automate(static_cast<int>(engine() % static_cast<unsigned>(first->parameterCount())),
                            static_cast<double>(engine() % 1001) / 1000.0);
            first->process(spotNow.data(), roomNow.data(), 64);
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(200)); // the worker hears of it
        const auto saved = first->state();
        REQUIRE(second->setState(saved));
        std::this_thread::sleep_for(std::chrono::milliseconds(200));
        INFO((isVst3 ? "VST3" : "LV2") << " " << saved << " " << second->state());
        CHECK(second->state() == saved);
    }
}

TEST_CASE("VST3 and LV2 in one process plan their transforms at once")
{
    const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(howMany("TARRY_SECONDS", 4));
    const std::array<std::unique_ptr<RawPlugin>, 2> plugins{load(true), load(false)};
    std::vector<std::thread> threads;
    std::atomic<int> rounds{0};
    for (const auto& plugin : plugins)
        threads.emplace_back(
            [&]
            {
                for (int i = 0; std::chrono::steady_clock::now() < until; ++i)
                {
                    // Each start makes new transforms, of other sizes at other rates.
                    if (plugin->start(i % 2 == 0 ? 44100.0 : 96000.0 + 1000.0 * (i % 7), 512, 2, 2)) ++rounds;
                }
            });
    for (auto& thread : threads) thread.join();
    INFO(rounds << " starts");
    CHECK(rounds > 2);
}

TEST_CASE("the binaries export what a host enters them by, and nothing else", "[outside]")
{
    TARRY_NEED_PROGRAM(nm, "nm");
    const auto exports = [&](const std::string& file)
    {
        const auto result = runProgram({nm.string(), "-D", "--defined-only", file});
        REQUIRE(result.status == 0);
        std::vector<std::string> names;
        std::istringstream lines(result.output);
        for (std::string address, kind, name; lines >> address >> kind >> name;) names.push_back(kind + " " + name);
        std::sort(names.begin(), names.end());
        return names;
    };
    CHECK(exports(TARRY_VST3_BINARY) ==
          std::vector<std::string>{"T GetPluginFactory", "T ModuleEntry", "T ModuleExit"});
    CHECK(exports(TARRY_LV2_BINARY) == std::vector<std::string>{"T lv2_descriptor", "T lv2ui_descriptor"});
}

TEST_CASE("the binaries carry nothing of JUCE's for hosting other plugins")
{
    for (const std::string binary : {TARRY_VST3_BINARY, TARRY_LV2_BINARY})
    {
        std::ifstream file(binary, std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(file), {}};
        INFO(binary << ", " << bytes.size() << " bytes");
        REQUIRE(bytes.size() > 1000000);
        CHECK(bytes.find("The LV2 Plugin Interface Project.") ==
              std::string::npos); // of the texts that its hosting embeds
    }
}

TEST_CASE("moduleinfo.json says what the factory says")
{
    std::ifstream file(std::string(TARRY_VST3) + "/Contents/Resources/moduleinfo.json");
    REQUIRE(file);
    const auto info = nlohmann::json::parse(file);
    const auto classes = vst3Classes(TARRY_VST3);
    REQUIRE(info["Classes"].size() == classes.size());
    for (std::size_t i = 0; i < classes.size(); ++i)
    {
        const auto& said = info["Classes"][i];
        const auto& is = classes[i];
        std::string categories;
        for (const auto& category : said["Sub Categories"])
            categories += (categories.empty() ? "" : "|") + category.get<std::string>();
        CHECK(said["CID"] == is.cid);
        CHECK(said["Category"] == is.category);
        CHECK(said["Name"] == is.name);
        CHECK(said["Vendor"] == is.vendor);
        CHECK(said["Version"] == is.version);
        CHECK(said["SDKVersion"] == is.sdkVersion);
        CHECK(categories == is.subCategories);
    }
    CHECK(classes[0].subCategories == "Fx|Delay|Tools");
}

// As the validator of the VST3 SDK remarks of a parameter that is a program change and no list.
TEST_CASE("VST3: the preset is a list, of which a host's generic screen shows the names")
{
    CHECK(vst3ProgramsAreLists(TARRY_VST3) == std::vector<bool>{true});
}

TEST_CASE("LV2: bypass is the enabled port, and a block in which nothing happens tells nothing")
{
    const auto plugin = loadRawLv2(TARRY_LV2, TARRY_LV2_URI);
    REQUIRE(plugin->start(48000.0, 480, 2, 2));
    std::vector<std::vector<float>> spot(2, std::vector<float>(480)), room = spot;
    const auto spotNow = pointers(spot), roomNow = pointers(room);
    std::map<std::string, double> told;
    for (int i = 0; i < 200; ++i)
    {
        plugin->process(spotNow.data(), roomNow.data(), 480);
        if (i > 100) told.merge(plugin->takeTold());
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    std::string words;
    for (const auto& [id, value] : told) words += id + " ";
    INFO("told: " << words);
    CHECK(told.empty());
}

TEST_CASE("LV2: a host that has only just loaded a state is told what it holds")
{
    const auto plugin = loadRawLv2(TARRY_LV2, TARRY_LV2_URI);
    REQUIRE(plugin->start(48000.0, 480, 2, 2));
    const auto saved = plugin->state();
    REQUIRE(plugin->start(48000.0, 480, 2, 2)); // a new instance
    REQUIRE(plugin->setState(saved));
    std::vector<std::vector<float>> spot(2, std::vector<float>(480)), room = spot;
    const auto spotNow = pointers(spot), roomNow = pointers(room);
    std::map<std::string, double> told;
    for (int i = 0; i < 100; ++i)
    {
        plugin->process(spotNow.data(), roomNow.data(), 480);
        for (const auto& [id, value] : plugin->takeTold()) told[id] = value;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    CHECK(told["aligned"] == 1.0);
    CHECK(told["freezeWhenSettled"] == 1.0);
    CHECK(told["measure"] == 1.0);
    CHECK(told["reach"] == 80.0);
}
