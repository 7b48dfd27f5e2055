#pragma once
#include "Files/SessionRecord.h"

#include <array>
#include <string>

namespace tarry
{
/// Where a row's two clips lie, relative to the output folder: as recorded, aligned. Named by the plan's line, so that
/// shards never write the same one.
[[nodiscard]] inline std::array<std::string, 2> clipFilesOf(const SessionRow& row)
{
    const std::string name = "clips/line-" + std::to_string(row.line);
    return {name + "-as-recorded.flac", name + "-aligned.flac"};
}
} // namespace tarry
