#include "Support/Catch.h"
#include "Support/Python.h"
#include "Support/Shared.h"

using namespace tarry::test;

TEST_CASE("a program's status, output and errors come back, arguments untouched")
{
    TARRY_NEED_PROGRAM(shell, "sh");
    const auto result = runProgram({shell, "-c", "echo \"$1\"; echo oops >&2; exit 3", "x", "two  words '\""});
    CHECK(result.status == 3);
    CHECK(result.output == "two  words '\"\n");
    CHECK(result.errors == "oops\n");
    CHECK(runProgram({shell, "-c", "kill -9 $$"}).status == 137);
    CHECK_THROWS(runProgram({"/nonexistent/program"}));
}

TEST_CASE("a Python with SciPy runs a script and passes its arguments on", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    CHECK(runPython(python, "import sys; print(sys.argv[1:])", {"a b"}).output == "['a b']\n");
}

TEST_CASE("the shared material is where TARRY_SHARED says", "[outside]")
{
    TARRY_NEED_SHARED(hits, "real-hits");
    CHECK(std::filesystem::is_directory(hits));
}
