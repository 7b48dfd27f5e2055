#pragma once
#ifdef _WIN32
#define ENABLE_SNDFILE_WINDOWS_PROTOTYPES 1 // file names are wide there
#endif
#include <filesystem>
#include <sndfile.h>

namespace tarry
{
/// sf_open, for any file name on any system.
inline SNDFILE* openSound(const std::filesystem::path& file, int mode, SF_INFO& info)
{
#ifdef _WIN32
    return sf_wchar_open(file.c_str(), mode, &info);
#else
    return sf_open(file.c_str(), mode, &info);
#endif
}
} // namespace tarry
