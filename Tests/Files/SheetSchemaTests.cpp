#include "Files/Fixtures.h"
#include "Files/MadeUpSession.h"
#include "Files/SessionJson.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <fstream>

using namespace tarry;
using namespace tarry::test;

TEST_CASE("sheet.json: as Sheet.schema.json describes it, every key of it", "[outside]")
{
    TARRY_NEED_PYTHON(python, "jsonschema");
    const TemporaryFolder folder;
    auto record = madeUpSession();
    record.tallies = {{false, "", 4, 64, 51, 0.0000009, 0.68, 0.88, 4, 0, 0.0625}};
    std::ofstream(folder / "sheet.json", std::ios::binary) << toJson(record);
    const auto read = runPython(python, R"(
import json, sys, jsonschema
schema, sheet = (json.load(open(name, encoding='utf-8')) for name in sys.argv[1:3])
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
problems = [str(list(e.absolute_path)) + ' ' + e.message for e in validator.iter_errors(sheet)]
assert not problems, problems[:5]
# No key without a word on it.
def described(value, part, at):
    while '$ref' in part: part = schema['$defs'][part['$ref'].split('/')[-1]]
    if isinstance(value, dict):
        for key, inner in value.items():
            assert key in part.get('properties', {}), 'the schema says nothing of ' + at + '/' + key
            described(inner, part['properties'][key], at + '/' + key)
    if isinstance(value, list):
        for inner in value: described(inner, part['items'], at)
described(sheet, schema, '')
# And it refuses what is wrong.
for key, wrong in (('lag_ms', '31'), ('polarity', 'up'), ('confidence', 1.5), ('print', {'file': 'x', 'sha256': 'zz'})):
    broken = json.loads(json.dumps(sheet))
    broken['rows'][0][key] = wrong
    assert not validator.is_valid(broken), key
)",
                                {TARRY_SHEET_SCHEMA, (folder / "sheet.json").string()});
    INFO(read.errors);
    CHECK(read.status == 0);
}
