#include "Command/DrumTake.h"
#include "Core/Controls/SettingTable.h"
#include "Core/Ground/Text.h"
#include "Core/Ground/Version.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("version and help are answers, to standard output")
{
    const auto version = tarryCommand({"--version"});
    CHECK(version.status == 0);
    CHECK(version.output == "tarry " + tarry::versionAndBuild() + "\n");

    const auto help = tarryCommand({"--help"});
    CHECK(help.status == 0);
    CHECK(help.errors.empty());
    for (const char* word : {"measure", "print", "hall"}) CHECK(contains(help.output, word));

    const auto measure = tarryCommand({"measure", "--help"});
    for (const char* option : {"--reach", "--look-ahead", "--room-channel", "--each-side", "--clap", "--temperature",
                               "--json", "--taped", "--picture"})
    {
        INFO(option);
        CHECK(contains(measure.output, option));
    }
    const auto print = tarryCommand({"print", "--help"});
    for (const char* option : {"-o", "--lag-ms", "--polarity", "--lean", "--whole-samples", "--time-stamp", "--reach",
                               "--anyway", "--overwrite", "--same-length", "4 not advised"})
    {
        INFO(option);
        CHECK(contains(print.output, option));
    }
    CHECK(contains(print.output, "noise exposure"));
}

TEST_CASE("bad usage ends with status 2 and one line that says what")
{
    struct Mistake
    {
        std::vector<std::string> arguments;
        std::string says;
    };
    const std::vector<Mistake> mistakes{
        {{}, "give a command: measure, print"},
        {{"lisen"}, "'lisen'"},
        {{"mesure", "a.wav"}, "did you mean measure?"},
        {{"pirnt"}, "did you mean print?"},
        {{"hal", "-o", "x"}, "did you mean hall?"},
        {{"measure"}, "SPOT"},
        {{"measure", "a.wav"}, "ROOM"},
        {{"measure", "a.wav", "b.wav", "--reach", "3"}, "--reach"},
        {{"measure", "a.wav", "b.wav", "--reach", "nan"}, "--reach"},
        {{"measure", "a.wav", "b.wav", "--reach", "80ms"}, "80ms"},
        {{"measure", "a.wav", "b.wav", "--look-ahead", "-1"}, "--look-ahead"},
        {{"measure", "a.wav", "b.wav", "--temperature", "300"}, "--temperature"},
        {{"measure", "a.wav", "b.wav", "--room-channel", "0"}, "--room-channel"},
        {{"measure", "a.wav", "b.wav", "--room-channel", "rear"}, "rear"},
        {{"measure", "a.wav", "b.wav", "--louder"}, "--louder"},
        {{"measure", "a.wav", "b.wav", "--taped", "35in"}, "35in"},
        {{"measure", "a.wav", "b.wav", "--taped", "0"}, "--taped"},
        {{"measure", "a.wav", "b.wav", "--taped", "nan"}, "--taped"},
        {{"print", "a.wav", "--lag-ms", "3"}, "--output"},
        {{"print", "a.wav", "-o", "b.wav", "--lag-ms", "inf"}, "--lag-ms"},
        {{"print", "a.wav", "-o", "b.wav", "--polarity", "inverted"}, "--lag-ms"},
        {{"print", "a.wav", "-o", "b.wav", "--lag-ms", "3", "--polarity", "up"}, "up"},
        {{"print", "a.wav", "-o", "b.wav", "--lag-ms", "3", "--lean", "31"}, "--lean"},
        {{"print", "a.wav", "-o", "b.wav", "--lag-ms", "3", "--time-stamp", "--whole-samples"}, "--time-stamp"},
    };
    for (const auto& [arguments, says] : mistakes)
    {
        const auto result = tarryCommand(arguments);
        std::string line;
        for (const auto& argument : arguments) line += argument + " ";
        INFO(line << "-> " << result.status << ": " << result.errors);
        CHECK(result.status == 2);
        CHECK(result.output.empty());
        CHECK(isOneLine(result.errors));
        CHECK(contains(result.errors, says));
    }
}

TEST_CASE("a range is the plugin's own: its ends are taken, a step beyond is not")
{
    const std::vector<std::pair<const char*, const Setting*>> options{
        {"--reach", &setting(&Controls::reach)},
        {"--look-ahead", &setting(&Setup::lookAhead)},
        {"--temperature", &setting(&Setup::temperature)},
        {"--lean", &setting(&Controls::lean)},
    };
    for (const auto& [option, setting] : options)
        for (const double value : {setting->least - 1.0, setting->least, setting->most, setting->most + 1.0})
        {
            const bool fits = value >= setting->least && value <= setting->most;
            const auto result = tarryCommand({"print", "a.wav", "b.wav", "-o", "c.wav", option, fixed(value, 0)});
            INFO(option << " " << value << ": " << result.errors);
            CHECK(contains(result.errors, option) == !fits); // else there is no a.wav
        }
}
