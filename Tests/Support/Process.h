#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace tarry::test
{
/// A folder of its own for one test, removed with all that is in it when the test ends.
class TemporaryFolder
{
public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    TemporaryFolder(TemporaryFolder&&) = delete;
    TemporaryFolder& operator=(TemporaryFolder&&) = delete;

    const std::filesystem::path& path() const { return folder; }
    std::filesystem::path operator/(const std::string& name) const { return folder / name; }

private:
    std::filesystem::path folder;
};

/// What a finished program left: its exit status (128 + signal when one ended it), standard output and standard error.
struct ProcessResult
{
    int status = -1;
    std::string output;
    std::string errors;
};

/// Runs a program to its end with standard input closed; the arguments reach it as they are, spaces and quotes
/// included.
/// @throws std::system_error when it cannot be started
ProcessResult runProgram(const std::vector<std::string>& programAndArguments);

/// The program of that name on PATH, or an empty path.
std::filesystem::path findProgram(const std::string& name);
/// Why a test without it is skipped. Built elsewhere: inlined, GCC 12 warns of bounds that are none.
std::string withoutProgram(const std::string& name);
} // namespace tarry::test

/// Declares `variable`, the path of a program that tests compare with, or skips the test case.
#define TARRY_NEED_PROGRAM(variable, name)                                                                             \
    const std::filesystem::path variable = ::tarry::test::findProgram(name);                                           \
    if (variable.empty()) TARRY_SKIP(::tarry::test::withoutProgram(name))
