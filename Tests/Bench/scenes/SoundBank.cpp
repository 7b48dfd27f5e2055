#include "SoundBank.h"

#include <fluidsynth.h>

#include <algorithm>
#include <map>
#include <memory>
#include <mutex>
#include <stdexcept>

namespace tarry::bench
{
namespace
{
constexpr int block = 64; // frames: fluidsynth begins notes at its blocks
constexpr int channels = 16;

struct Player
{
    std::unique_ptr<fluid_settings_t, void (*)(fluid_settings_t*)> settings{new_fluid_settings(),
                                                                            delete_fluid_settings};
    std::unique_ptr<fluid_synth_t, void (*)(fluid_synth_t*)> synth{nullptr, delete_fluid_synth};
    int font = 0;

    Player(const std::filesystem::path& file, double rate)
    {
        for (const int level : {FLUID_WARN, FLUID_INFO, FLUID_ERR}) fluid_set_log_function(level, nullptr, nullptr);
        fluid_settings_setnum(settings.get(), "synth.sample-rate", rate);
        fluid_settings_setnum(settings.get(), "synth.gain", 0.4);
        fluid_settings_setint(settings.get(), "synth.reverb.active", 0);
        fluid_settings_setint(settings.get(), "synth.chorus.active", 0);
        fluid_settings_setint(settings.get(), "synth.dynamic-sample-loading", 1);
        fluid_settings_setint(settings.get(), "synth.midi-channels", channels);
        synth.reset(new_fluid_synth(settings.get()));
        font = fluid_synth_sfload(synth.get(), file.c_str(), 1);
        if (font < 0) throw std::runtime_error(file.string() + ": fluidsynth cannot read it");
    }
};
} // namespace

std::vector<double> playNotes(const std::filesystem::path& soundFont, const std::vector<Note>& notes, double seconds,
                              double rate)
{
    static std::mutex one;
    static std::map<std::string, Player> players; // a bank takes long to open
    const std::scoped_lock guard(one);
    const auto key = soundFont.string() + "@" + std::to_string(rate);
    auto* synth = players.try_emplace(key, soundFont, rate).first->second.synth.get();
    const int font = players.at(key).font;
    fluid_synth_system_reset(synth);

    struct Event
    {
        int blockNumber;
        bool on;
        const Note* note;
        int channel;
    };
    std::vector<Event> events;
    std::vector<std::pair<int, int>> programs; // a channel each
    for (const auto& note : notes)
    {
        const std::pair program{note.bank, note.program};
        auto at = std::find(programs.begin(), programs.end(), program);
        if (at == programs.end()) at = programs.insert(programs.end(), program);
        const auto channel = static_cast<int>(at - programs.begin());
        if (channel >= channels) throw std::runtime_error("more than 16 sounds at once");
        if (fluid_synth_program_select(synth, channel, font, note.bank, note.program) != FLUID_OK)
            throw std::runtime_error(soundFont.string() + ": has no bank " + std::to_string(note.bank) + ", program " +
                                     std::to_string(note.program));
        events.push_back({static_cast<int>(note.start * rate / block), true, &note, channel});
        events.push_back({static_cast<int>((note.start + note.length) * rate / block), false, &note, channel});
    }
    std::stable_sort(events.begin(), events.end(),
                     [](const Event& a, const Event& b) { return a.blockNumber < b.blockNumber; });

    const auto blocks = static_cast<int>(seconds * rate / block) + 1;
    std::vector<double> sound;
    auto event = events.begin();
    for (int b = 0; b < blocks; ++b)
    {
        for (; event != events.end() && event->blockNumber <= b; ++event)
            if (event->on)
                fluid_synth_noteon(synth, event->channel, event->note->key, event->note->velocity);
            else
                fluid_synth_noteoff(synth, event->channel, event->note->key);
        float left[block], right[block];
        fluid_synth_write_float(synth, block, left, 0, 1, right, 0, 1);
        for (int i = 0; i < block; ++i)
            sound.push_back(0.5 * (static_cast<double>(left[i]) + static_cast<double>(right[i])));
    }
    return sound;
}
} // namespace tarry::bench
