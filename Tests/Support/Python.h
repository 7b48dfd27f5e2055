#pragma once

#include "Support/Process.h"
#include "Support/Skip.h"

#include <filesystem>
#include <string>
#include <vector>

namespace tarry::test
{
/// A Python 3 that can import the module (say "scipy"), or an empty path. Debian's own is asked first: another one on
/// PATH often lacks Debian's modules.
std::filesystem::path findPython(const std::string& module);
/// Why a test without it is skipped.
std::string withoutPython(const std::string& module);

/// Runs a script, given as text, with these arguments (sys.argv[1:]).
ProcessResult runPython(const std::filesystem::path& python, const std::string& script,
                        const std::vector<std::string>& arguments = {});
} // namespace tarry::test

/// Declares `variable`, the path of a Python that has the module, or skips the test case.
#define TARRY_NEED_PYTHON(variable, module)                                                                            \
    const std::filesystem::path variable = ::tarry::test::findPython(module);                                          \
    if (variable.empty()) TARRY_SKIP(::tarry::test::withoutPython(module))
