#include "Support/Shared.h"

#include <cstdlib>

namespace tarry::test
{
std::filesystem::path sharedFolder()
{
    const char* variable = std::getenv("TARRY_SHARED");
    return variable != nullptr && *variable != '\0' ? variable : TARRY_SHARED_DEFAULT;
}
} // namespace tarry::test
