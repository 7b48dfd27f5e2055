#pragma once

#include "Support/Skip.h"

#include <filesystem>
#include <string>

namespace tarry::test
{
/// The folder of shared measured material: the environment variable TARRY_SHARED, else CMake's option of that name
/// (default: `shared` beside the project). It need not exist.
std::filesystem::path sharedFolder();
} // namespace tarry::test

/// Declares `variable`, the path of a file or folder of the shared material, or skips the test case where it is absent.
#define TARRY_NEED_SHARED(variable, name)                                                                              \
    const std::filesystem::path variable = ::tarry::test::sharedFolder() / (name);                                     \
    if (!std::filesystem::exists(variable))                                                                            \
    TARRY_SKIP("no shared material at " + (variable).string() + " (set TARRY_SHARED)")
