#include "Recordings.h"

#include <sndfile.h>

#include <algorithm>
#include <fstream>
#include <memory>
#include <stdexcept>

namespace tarry::bench
{
namespace
{
using File = std::unique_ptr<SNDFILE, int (*)(SNDFILE*)>;

/// The cells of a line; one in double quotes may hold commas (RFC 4180).
std::vector<std::string> cells(const std::string& line)
{
    std::vector<std::string> result(1);
    bool quoted = false;
    for (const char c : line)
        if (c == '"')
            quoted = !quoted;
        else if (c == ',' && !quoted)
            result.emplace_back();
        else
            result.back() += c;
    return result;
}

std::string tierOf(const Row& row, bool neighbours)
{
    if (row.at("spot").starts_with("bassdrum")) return "bass-drum";
    return std::string("real-") + (neighbours ? "neighbours-" : "") + (row.at("grade") == "A" ? "a" : "b");
}
} // namespace

std::vector<Row> readTable(const std::filesystem::path& file)
{
    std::ifstream stream(file);
    if (!stream) throw std::runtime_error(file.string() + ": cannot be opened; a folder of real tracks needs it");
    std::string line;
    std::getline(stream, line);
    const auto names = cells(line);
    std::vector<Row> rows;
    while (std::getline(stream, line))
    {
        const auto values = cells(line);
        if (values.size() != names.size())
            throw std::runtime_error(file.string() + ": this row does not match the heading: " + line);
        rows.emplace_back();
        for (std::size_t i = 0; i < names.size(); ++i) rows.back()[names[i]] = values[i];
    }
    return rows;
}

Tracks readTracks(const std::filesystem::path& file, double& rate)
{
    SF_INFO info{};
    const File handle(sf_open(file.c_str(), SFM_READ, &info), sf_close);
    if (!handle) throw std::runtime_error(file.string() + ": " + sf_strerror(nullptr));
    const auto channels = static_cast<std::size_t>(info.channels), frames = static_cast<std::size_t>(info.frames);
    std::vector<float> interleaved(channels * frames);
    if (sf_readf_float(handle.get(), interleaved.data(), info.frames) != info.frames)
        throw std::runtime_error(file.string() + ": ends before its header says");
    Tracks tracks(channels, std::vector<float>(frames));
    for (std::size_t i = 0; i < interleaved.size(); ++i) tracks[i % channels][i / channels] = interleaved[i];
    rate = info.samplerate;
    return tracks;
}

void writeTracks(const std::filesystem::path& file, const Tracks& tracks, double rate)
{
    SF_INFO info{};
    info.channels = static_cast<int>(tracks.size());
    info.samplerate = static_cast<int>(rate);
    info.format = file.extension() == ".flac" ? SF_FORMAT_FLAC | SF_FORMAT_PCM_24 : SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    const File handle(sf_open(file.c_str(), SFM_WRITE, &info), sf_close);
    if (!handle) throw std::runtime_error(file.string() + ": " + sf_strerror(nullptr));
    std::vector<float> interleaved(tracks.size() * tracks.front().size());
    for (std::size_t i = 0; i < interleaved.size(); ++i) interleaved[i] = tracks[i % tracks.size()][i / tracks.size()];
    sf_writef_float(handle.get(), interleaved.data(), static_cast<sf_count_t>(tracks.front().size()));
}

std::vector<Example> readRealExamples(const std::filesystem::path& folder)
{
    std::vector<Example> examples;
    for (const bool neighbours : {false, true})
    {
        const auto table = folder / (neighbours ? "reference-neighbours.csv" : "reference.csv");
        if (neighbours && !exists(table)) continue;
        for (const auto& row : readTable(table))
        {
            try
            {
                Example example;
                example.family = "real";
                example.tier = tierOf(row, neighbours);
                example.name = row.at("spot") + " | " + row.at("room");
                example.lag = std::stod(row.at("first_arrival_30db_ms")) / 1000.0;
                example.polarity = row.at("first_lobe") == "opposite" ? Polarity::inverted : Polarity::normal;
                double spotRate = 0.0, roomRate = 0.0;
                example.spot = readTracks(folder / row.at("spot"), spotRate);
                example.room = readTracks(folder / row.at("room"), roomRate);
                if (spotRate != roomRate)
                    throw std::runtime_error(table.string() + ": rates differ in " + example.name);
                const auto frames = std::max(example.spot.front().size(), example.room.front().size());
                for (auto* tracks : {&example.spot, &example.room})
                    for (auto& track : *tracks) track.resize(frames);
                example.settings.sampleRate = spotRate;
                examples.push_back(std::move(example));
            }
            catch (const std::logic_error&) // no such column, or no number in it
            {
                throw std::runtime_error(
                    table.string() + ": needs columns spot, room, first_arrival_30db_ms (a number), first_lobe, grade");
            }
        }
    }
    return examples;
}

const std::vector<std::string>& realTiers()
{
    static const std::vector<std::string> names{"real-a", "real-neighbours-a", "real-b", "real-neighbours-b",
                                                "bass-drum"};
    return names;
}
} // namespace tarry::bench
