#pragma once
#include "Support/Process.h"

#include <clocale>
#include <cstdlib>

namespace tarry::test
{
/// While it lives the process writes a comma for the decimals, as a host may have set it: de_DE, made for the occasion
/// by `localedef` (Debian: libc-bin, with the sources in `locales`).
class CommaLocale
{
public:
    CommaLocale()
    {
        const auto localedef = findProgram("localedef");
        if (localedef.empty()) return;
        // 1: made, with warnings
        if (runProgram({localedef, "-i", "de_DE", "-f", "UTF-8", folder / "de_DE.UTF-8"}).status > 1) return;
        setenv("LOCPATH", folder.path().c_str(), 1);
        set = std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr;
    }
    ~CommaLocale()
    {
        std::setlocale(LC_ALL, "C");
        unsetenv("LOCPATH");
    }
    CommaLocale(const CommaLocale&) = delete;
    CommaLocale& operator=(const CommaLocale&) = delete;
    CommaLocale(CommaLocale&&) = delete;
    CommaLocale& operator=(CommaLocale&&) = delete;

    [[nodiscard]] bool atWork() const { return set; }

private:
    TemporaryFolder folder;
    bool set = false;
};
} // namespace tarry::test

/// Declares `variable`, which sets such a locale until the test case ends, or skips the test case.
#define TARRY_NEED_COMMA(variable)                                                                                     \
    const ::tarry::test::CommaLocale variable;                                                                         \
    if (!variable.atWork()) TARRY_SKIP("no localedef with de_DE, to make a locale with a decimal comma")
