#pragma once
#include <string>

namespace tarry
{
/// "0.1.0": set in the top CMakeLists.txt and nowhere else.
std::string version();

/// The state of the source that this was built from, as `git describe` tells it ("v0.1.0-3-g1a2b3c4", "1a2b3c4-dirty");
/// empty where it was built without git.
std::string build();

/// For people: "0.1.0 (build 1a2b3c4)", or "0.1.0" where the build is not known.
std::string versionAndBuild();
} // namespace tarry
