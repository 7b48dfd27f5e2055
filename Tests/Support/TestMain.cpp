// Catch's main, and one thing more: a run that skipped something ends with its own status, so that CTest neither calls
// it passed nor hides a failure behind it.
#define CATCH_CONFIG_RUNNER
#include "Support/Catch.h"
#include "Support/Skip.h"

#include <iostream>

namespace
{
int skips = 0;
}

namespace tarry::test
{
void noteSkipped(const std::string& reason)
{
    ++skips;
    std::cout << "skipped: " << Catch::getResultCapture().getCurrentTestName() << ": " << reason << std::endl;
}

} // namespace tarry::test

int main(int argc, char* argv[])
{
    Catch::Session session;
#if CATCH_VERSION_MAJOR == 2
    session.configData().warnings = Catch::WarnAbout::NoTests; // a filter that matches nothing fails, as it does in 3
#endif
    if (const int status = session.applyCommandLine(argc, argv); status != 0) return status;
    const int status = session.run();
    if (status == 0 && skips > 0) return tarry::test::skippedStatus;
    return status;
}
