#include "Files/SessionJson.h"

#include "Core/Ground/JsonValues.h"
#include "Files/Errors.h"
#include "Files/Measurement.h"
#include "Files/SessionFields.h"

namespace tarry
{
namespace
{
using Json = nlohmann::ordered_json;
using namespace session_fields;

constexpr int digitsOfWaves = 4;

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
    void ms(const char* key, double seconds) { json[key] = inMs(seconds); }
    void ms(const char* key, const std::optional<double>& seconds) { json[key] = orNull<Json>(seconds, inMs); }
    void number(const char* key, double value, int digits) { json[key] = rounded(value, digits); }
    void number(const char* key, const std::optional<double>& value, int digits)
    {
        json[key] = orNull<Json>(value, [digits](double each) { return rounded(each, digits); });
    }
    void wave(const char* key, const std::vector<double>& values)
    {
        json[key] = Json::array();
        for (const double value : values) json[key].push_back(rounded(value, digitsOfWaves));
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
        if (json.contains(key)) seconds = fromMs(json.at(key).get<double>());
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
    return orNull<Json>(value, [](const Value& each) { return written(each); });
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
