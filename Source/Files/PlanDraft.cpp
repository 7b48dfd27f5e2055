#include "Files/PlanDraft.h"

#include "Core/Ground/Types.h"
#include "Files/AudioReader.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <set>
#include <tuple>

namespace tarry
{
namespace
{
namespace fs = std::filesystem;
using Words = std::vector<std::string>;

constexpr std::array soundFiles{".wav", ".w64", ".rf64", ".aif", ".aiff", ".flac"};
// What a main array's or a room microphone's track is usually called (common practice).
constexpr std::array roomWords{"room", "rooms", "array",    "main",    "mains", "tree",
                               "hall", "amb",   "ambience", "ambient", "wide",  "far"};

bool isIn(const auto& list, const std::string& word)
{
    return std::find(list.begin(), list.end(), word) != list.end();
}

std::string lower(std::string text)
{
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

bool isDigit(char c)
{
    return c >= '0' && c <= '9';
}

/// The words of a path, without its ending, in lower case: apart wherever something else than letters and digits
/// stands. A 'take' or 'cue' before a number makes one word with it.
Words wordsOf(const fs::path& file)
{
    Words words;
    std::string word;
    for (const char c : lower((file.parent_path() / file.stem()).generic_string()) + " ")
    {
        if (isDigit(c) || std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80)
        {
            word += c;
            continue;
        }
        if (word.empty()) continue;
        const bool number = std::all_of(word.begin(), word.end(), isDigit);
        if (number && !words.empty() && (words.back() == "take" || words.back() == "tk" || words.back() == "cue"))
            words.back() += word;
        else
            words.push_back(word);
        word.clear();
    }
    return words;
}

/// The number in "take2", "tk2", "t2"; empty else.
std::string takeIn(const std::string& word)
{
    for (const std::string before : {"take", "tk", "t"})
        if (word.size() > before.size() && word.starts_with(before) &&
            std::all_of(word.begin() + static_cast<std::ptrdiff_t>(before.size()), word.end(), isDigit))
            return word.substr(before.size());
    return {};
}

std::string joined(const Words& words)
{
    std::string text;
    for (const auto& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

struct Track
{
    fs::path file;
    Words words; ///< without those that say 'room'
    bool isRoom = false;
};

Track trackOf(const fs::path& file)
{
    Track track{file, {}, false};
    for (auto& word : wordsOf(file))
        if (isIn(roomWords, word))
            track.isRoom = true;
        else
            track.words.push_back(std::move(word));
    return track;
}

/// `words` without those of `others`, each taken away once; nothing where one of them is missing.
std::optional<Words> beyond(Words words, const Words& others)
{
    for (const auto& word : others)
    {
        const auto found = std::find(words.begin(), words.end(), word);
        if (found == words.end()) return std::nullopt;
        words.erase(found);
    }
    return words;
}

PlanDraft::Pair pairOf(const Track& spot, const Track& room, const Words& instrument)
{
    PlanDraft::Pair pair;
    pair.spot = spot.file;
    pair.room = room.file;
    Words cue;
    for (const auto& word : room.words)
        if (const auto take = takeIn(word); !take.empty() && pair.take.empty())
            pair.take = take;
        else
            cue.push_back(word.starts_with("cue") && word.size() > 3 ? word.substr(3) : word);
    pair.cue = cue.empty() ? "1" : joined(cue);
    if (pair.take.empty()) pair.take = "1";
    pair.instrument = joined(instrument);
    return pair;
}

std::string quoted(const std::string& cell)
{
    if (cell.find_first_of(",;\t\"\r\n") == std::string::npos) return cell;
    std::string text = "\"";
    for (const char c : cell) text += c == '"' ? std::string("\"\"") : std::string(1, c);
    return text + "\"";
}
} // namespace

PlanDraft draftPlan(const fs::path& folder)
{
    std::error_code problem;
    if (!fs::is_directory(folder, problem)) throw InputError(folder, "is no folder: name the one with the sound files");
    std::vector<Track> rooms, spots;
    PlanDraft draft;
    std::vector<fs::path> found;
    for (const auto& entry :
         fs::recursive_directory_iterator(folder, fs::directory_options::skip_permission_denied, problem))
        if (entry.is_regular_file() && isIn(soundFiles, lower(entry.path().extension().string())))
            found.push_back(entry.path().lexically_relative(folder));
    std::sort(found.begin(), found.end());
    for (const auto& file : found)
    {
        const Track track = trackOf(file);
        try
        {
            const AudioReader opens(folder / file, track.isRoom ? maxRoomChannels : maxSpotChannels);
            (track.isRoom ? rooms : spots).push_back(track);
        }
        catch (const InputError& refused)
        {
            const std::string text = refused.what();
            draft.leftovers.push_back({file, text.substr(std::min(text.size(), (folder / file).string().size() + 2))});
        }
    }

    std::set<fs::path> roomsUsed;
    for (const auto& spot : spots)
    {
        const Track* best = nullptr;
        Words instrument;
        bool tied = false;
        for (const auto& room : rooms)
        {
            const auto rest = beyond(spot.words, room.words);
            if (!rest) continue;
            tied = best != nullptr && rest->size() == instrument.size();
            if (best != nullptr && rest->size() >= instrument.size()) continue;
            best = &room;
            instrument = *rest;
        }
        if (best == nullptr)
            draft.leftovers.push_back({spot.file, "no room file has a name that goes with it"});
        else if (tied)
            draft.leftovers.push_back({spot.file, "several room files go with it as well as " + best->file.string()});
        else
        {
            draft.pairs.push_back(pairOf(spot, *best, instrument));
            roomsUsed.insert(best->file);
        }
    }
    for (const auto& room : rooms)
        if (!roomsUsed.contains(room.file)) draft.leftovers.push_back({room.file, "no spot goes with this room"});
    std::stable_sort(draft.pairs.begin(), draft.pairs.end(),
                     [](const auto& a, const auto& b)
                     { return std::tie(a.cue, a.take, a.instrument) < std::tie(b.cue, b.take, b.instrument); });
    return draft;
}

std::string PlanDraft::toCsv(const fs::path& folder, const fs::path& planFolder) const
{
    std::string text = "cue,take,setup,instrument,spot,room,room_channel,taped_m,temperature_c,decision,lean_ms,clap,"
                       "by,note\r\n";
    const auto place = [&](const fs::path& file)
    { return fs::proximate(folder / file, planFolder.empty() ? "." : planFolder).generic_string(); };
    for (const auto& pair : pairs)
        text += quoted(pair.cue) + "," + quoted(pair.take) + ",A," + quoted(pair.instrument) + "," +
                quoted(place(pair.spot)) + "," + quoted(place(pair.room)) + ",,,,,,,,\r\n";
    const bool plain =
        std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
    return (plain ? "" : "\xEF\xBB\xBF") + text; // spreadsheets tell UTF-8 by its mark
}
} // namespace tarry
