#pragma once

#include <cstdint>
#include <filesystem>

namespace tarry
{
/// How many bytes of sound the header of a WAV, RF64, W64 or AIFF file promises beyond the file's end: a copy that
/// broke off, a recorder that lost its power. 0 where all are there, where the header leaves the length open, and for
/// other kinds of file. (libsndfile quietly takes what there is.)
[[nodiscard]] std::uint64_t missingBytes(const std::filesystem::path& file);
} // namespace tarry
