#include "Files/SessionJson.h"

#include "Files/Errors.h"
#include "Files/Measurement.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace tarry
{
namespace
{
using Json = nlohmann::ordered_json;

// Digits after the point that are kept.
constexpr int ofNanoseconds = 9; // of a second
constexpr int ofDecibels = 2, ofShares = 4, ofPpm = 4, ofMetres = 3, ofWaves = 4;
constexpr int ofChance = 6;

double rounded(double value, int digits)
{
    const double scale = std::pow(10.0, digits);
    return std::round(value * scale) / scale;
}

template <typename Word>
Word wordFrom(const std::string& text, std::initializer_list<Word> words)
{
    for (const Word word : words)
        if (text == nameOf(word)) return word;
    throw std::invalid_argument("'" + text + "' is no word that is known there");
}
Polarity read(const Json& json, Polarity)
{
    return wordFrom(json.get<std::string>(), {Polarity::normal, Polarity::inverted});
}
Verdict read(const Json& json, Verdict)
{
    return wordFrom(json.get<std::string>(), {Verdict::align, Verdict::leave, Verdict::unsure});
}
Decision read(const Json& json, Decision)
{
    return wordFrom(json.get<std::string>(), {Decision::align, Decision::leave});
}

/// Puts an object's fields into JSON.
class Writer
{
public:
    template <typename Value>
    void operator()(const char* key, const Value& value)
    {
        json[key] = written(value);
    }
    void ms(const char* key, double seconds) { json[key] = std::round(seconds * 1e9) / 1e6; }
    void ms(const char* key, const std::optional<double>& seconds)
    {
        if (seconds)
            ms(key, *seconds);
        else
            json[key] = nullptr;
    }
    void number(const char* key, double value, int digits) { json[key] = rounded(value, digits); }
    void number(const char* key, const std::optional<double>& value, int digits)
    {
        json[key] = value ? Json(rounded(*value, digits)) : Json(nullptr);
    }
    void wave(const char* key, const std::vector<double>& values)
    {
        json[key] = Json::array();
        for (const double value : values) json[key].push_back(rounded(value, ofWaves));
    }

    Json json = Json::object();

private:
    template <typename Value>
    static Json written(const Value& value);
};

/// Takes an object's fields out of JSON. What is missing keeps its default.
class Reader
{
public:
    explicit Reader(const Json& object) : json(object)
    {
        if (!json.is_object()) throw std::invalid_argument("a list or value stands where an object should");
    }

    template <typename Value>
    void operator()(const char* key, Value& value)
    {
        if (json.contains(key)) take(json.at(key), value);
    }
    void ms(const char* key, double& seconds)
    {
        if (json.contains(key)) seconds = std::round(json.at(key).get<double>() * 1e6) / 1e9;
    }
    void ms(const char* key, std::optional<double>& seconds)
    {
        if (json.contains(key) && !json.at(key).is_null()) ms(key, seconds.emplace());
    }
    void number(const char* key, double& value, int) { (*this)(key, value); }
    void number(const char* key, std::optional<double>& value, int) { (*this)(key, value); }
    void wave(const char* key, std::vector<double>& values) { (*this)(key, values); }

private:
    template <typename Value>
    static void take(const Json& from, Value& value);
    template <typename Value>
    static void take(const Json& from, std::optional<Value>& value)
    {
        if (!from.is_null()) take(from, value.emplace());
    }
    template <typename Value>
    static void take(const Json& from, std::vector<Value>& values)
    {
        values.clear();
        for (const Json& each : from) take(each, values.emplace_back());
    }

    const Json& json;
};

// Each kind of object once, for both ways.

template <typename Fields, typename Object>
concept Is = std::same_as<std::remove_const_t<Fields>, Object>;

template <typename Visitor>
void visit(Visitor& field, Is<LagFigures> auto& figures)
{
    field.ms("lag_ms", figures.lag);
    field("polarity", figures.polarity);
    field("verdict", figures.verdict);
    field.number("confidence", figures.confidence, ofShares);
    field("reasons", figures.reasons);
    field("hits_found", figures.hitsFound);
    field("hits_used", figures.hitsUsed);
    field("hits_agreeing", figures.hitsAgreeing);
    field("hits_unheard", figures.hitsUnheard);
    field.ms("spread_ms", figures.spread);
    field.number("clear_db", figures.clearDb, ofDecibels);
    field.number("low_sum_normal_db", figures.lowSumNormal, ofDecibels);
    field.number("low_sum_inverted_db", figures.lowSumInverted, ofDecibels);
    field.number("attack_gain_db", figures.attackGainDb, ofDecibels);
    field.ms("flam_before_ms", figures.flamBefore);
    field.ms("flam_after_ms", figures.flamAfter);
    field.number("drift_ppm", figures.driftPpm, ofPpm);
    field.number("drift_ppm_sd", figures.driftPpmSd, ofPpm);
}

template <typename Visitor>
void visit(Visitor& field, Is<TapeFigures> auto& tape)
{
    field.number("taped_m", tape.metres, ofMetres);
    field.ms("difference_ms", tape.difference);
    field("agrees", tape.agrees);
    field("sentence", tape.sentence);
}

template <typename Visitor>
void visit(Visitor& field, Is<Moved> auto& moved)
{
    field.ms("by_ms", moved.by);
    field("since_cue", moved.sinceCue);
    field("since_take", moved.sinceTake);
    field.number("since_s", moved.sinceTime, ofNanoseconds);
    field("sentence", moved.sentence);
}

template <typename Visitor>
void visit(Visitor& field, Is<Envelope> auto& envelope)
{
    field.wave("low", envelope.low);
    field.wave("high", envelope.high);
}

template <typename Visitor>
void visit(Visitor& field, Is<AttackPicture> auto& attack)
{
    field.ms("start_ms", attack.start);
    field.ms("step_ms", attack.step);
    field("room", attack.room);
    field("spot_as_recorded", attack.spotAsRecorded);
    field("spot_aligned", attack.spotAligned);
}

template <typename Visitor>
void visit(Visitor& field, Is<ClipCut> auto& clip)
{
    field.number("start_s", clip.start, ofNanoseconds);
    field.number("end_s", clip.end, ofNanoseconds);
}

template <typename Visitor>
void visit(Visitor& field, Is<PrintRecord> auto& print)
{
    field("file", print.file);
    field("sha256", print.sha256);
    field("frames", print.frames);
    field("bytes", print.bytes);
    field("time_stamp_only", print.timeStampOnly);
    field.number("moved_samples", print.movedSamples, ofNanoseconds);
    field("clipped", print.clipped);
    field("format", print.format);
}

template <typename Visitor>
void visit(Visitor& field, Is<SessionRow> auto& row)
{
    field("line", row.line);
    field("cue", row.cue);
    field("take", row.take);
    field("setup", row.setup);
    field("instrument", row.instrument);
    field("note", row.note);
    field("spot", row.spotFile);
    field("room", row.roomFile);
    field("room_channel", row.roomChannel);
    field("clap", row.clap);
    field.number("temperature_c", row.temperature, ofDecibels);
    field("wished", row.wished);
    field.ms("lean_ms", row.lean);

    field("spot_rate", row.spotRate);
    field("room_rate", row.roomRate);
    field("spot_channels", row.spotChannels);
    field("room_channels", row.roomChannels);
    field("spot_frames", row.spotFrames);
    field("room_frames", row.roomFrames);
    field("spot_sha256", row.spotSha256);
    field("room_sha256", row.roomSha256);
    field("laid_by_time_stamp", row.laidByTimeStamp);
    field.ms("room_starts_after_ms", row.roomStartsAfter);
    field("notes", row.notes);

    field("failure", row.failure);
    field("own", row.own);
    field("pool", row.pool);
    field.ms("against_pool_ms", row.againstPool);
    field("from_pool", row.fromPool);
    field.ms("lag_ms", row.lag);
    field("polarity", row.polarity);
    field("verdict", row.verdict);
    field.number("confidence", row.confidence, ofShares);
    field("reasons", row.reasons);
    field.number("distance_m", row.distance, ofMetres);
    field("tape", row.tape);
    field.number("low_sum_normal_db", row.lowSumNormal, ofDecibels);
    field.number("low_sum_inverted_db", row.lowSumInverted, ofDecibels);
    field("moved", row.moved);

    field("decision", row.decision);
    field("decided_by", row.decidedBy);
    field("decided_on", row.decidedOn);
    field("wants_ear", row.wantsEar);
    field("print", row.print);
    field("recall_line", row.recallLine);
    field("attack", row.attack);
    field("clips", row.clips);
}

template <typename Visitor>
void visit(Visitor& field, Is<SetupRecord> auto& setup)
{
    field("name", setup.name);
    field("setup", setup.setup);
    field("instrument", setup.instrument);
    field("first_cue", setup.firstCue);
    field("first_take", setup.firstTake);
    field("last_cue", setup.lastCue);
    field("last_take", setup.lastTake);
    field("takes", setup.takes);
    field("takes_agreeing", setup.takesAgreeing);
    field("by_clap", setup.byClap);
    field("pooled", setup.pooled);
    field.ms("takes_spread_ms", setup.takesSpread);
}

template <typename Visitor>
void visit(Visitor& field, Is<MachineRecord> auto& machine)
{
    field("spot", machine.spot);
    field("room", machine.room);
    field.number("ppm", machine.ppm, ofPpm);
    field.number("ppm_sd", machine.ppmSd, ofPpm);
    field("takes", machine.takes);
    field("matters", machine.matters);
}

template <typename Visitor>
void visit(Visitor& field, Is<TallyRecord> auto& tally)
{
    field("asks_preference", tally.preference);
    field("name", tally.name);
    field("listeners", tally.listeners);
    field("answers", tally.answers);
    field("hits", tally.hits);
    field.number("p", tally.p, ofChance);
    field.number("low", tally.low, ofShares);
    field.number("high", tally.high, ofShares);
    field("listeners_for", tally.listenersFor);
    field("listeners_against", tally.listenersAgainst);
    field.number("listeners_p", tally.listenersP, ofChance);
}

template <typename Visitor>
void visit(Visitor& field, Is<SessionRecord> auto& record)
{
    field("tarry", record.version);
    field("plan", record.plan);
    field("planned", record.planned);
    field("whole_samples", record.wholeSamples);
    field("time_stamp", record.timeStamp);
    field("notes", record.notes);
    field("setups", record.setups);
    field("machines", record.machines);
    field("tallies", record.tallies);
    field("rows", record.rows);
}

template <typename Value>
concept Plain = std::is_arithmetic_v<Value> || std::same_as<Value, std::string>;
template <typename Value>
concept Word = std::is_enum_v<Value>;

Json written(const Plain auto& value)
{
    return value;
}
Json written(const Word auto& value)
{
    return nameOf(value);
}
template <typename Object>
Json written(const Object& object)
{
    Writer writer;
    visit(writer, object);
    return std::move(writer.json);
}
template <typename Value>
Json written(const std::optional<Value>& value)
{
    return value ? written(*value) : Json(nullptr);
}
template <typename Value>
Json written(const std::vector<Value>& values)
{
    Json list = Json::array();
    for (const Value& each : values) list.push_back(written(each));
    return list;
}

template <typename Value>
Json Writer::written(const Value& value)
{
    return tarry::written(value);
}

template <typename Value>
void Reader::take(const Json& from, Value& value)
{
    if constexpr (Plain<Value>)
        value = from.get<Value>();
    else if constexpr (Word<Value>)
        value = read(from, value);
    else
    {
        Reader reader(from);
        visit(reader, value);
    }
}
} // namespace

const char* nameOf(Decision decision)
{
    return decision == Decision::align ? "align" : "leave";
}

std::string toJson(const SessionRecord& record)
{
    Json json;
    json["schema"] = SessionRecord::schema;
    json.update(written(record));
    // A name that is not UTF-8 must not stop the record.
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

SessionRecord sessionFromJson(const std::string& text, const std::filesystem::path& name)
{
    try
    {
        const Json json = Json::parse(text);
        const int schema = json.at("schema").get<int>();
        if (schema > SessionRecord::schema)
            throw InputError(name, "is of schema " + std::to_string(schema) + ", and this Tarry reads up to " +
                                       std::to_string(SessionRecord::schema) +
                                       ": use the Tarry that wrote it, or a "
                                       "later one");
        SessionRecord record;
        Reader reader(json);
        visit(reader, record);
        return record;
    }
    catch (const Json::exception&)
    {
        throw InputError(name, "is no record of a session: give the sheet.json that tarry session wrote");
    }
    catch (const std::invalid_argument& problem)
    {
        throw InputError(name, std::string("is no record of a session (") + problem.what() +
                                   "): give the sheet.json that tarry session wrote");
    }
}
} // namespace tarry
