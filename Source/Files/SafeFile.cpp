#include "Files/SafeFile.h"

#include "Files/System.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <fstream>

namespace tarry
{
namespace
{
namespace fs = std::filesystem;

// What the signal handler removes: it may touch no std::string. One file at a time, as the command writes them.
std::array<fs::path::value_type, 4096> pending{};

void rememberPending(const fs::path& file)
{
    const auto& name = file.native();
    if (name.size() < pending.size()) *std::copy(name.begin(), name.end(), pending.begin()) = 0;
}

void removePending(int signalNumber)
{
    if (pending[0] != 0) system::removeFromSignal(pending.data());
    std::signal(signalNumber, SIG_DFL);
    std::raise(signalNumber);
}
} // namespace

SafeFile::SafeFile(fs::path target) : wanted(std::move(target))
{
    std::error_code problem;
    const auto status = fs::status(wanted, problem);
    if (wanted.filename().empty() || fs::is_directory(status))
        throw OutputError(wanted, "is a folder: give the name of a file in it");
    if (fs::exists(status) && !fs::is_regular_file(status))
        throw OutputError(wanted, "is not a plain file: name another");
    if (fs::is_symlink(fs::symlink_status(wanted, problem)) && fs::exists(status))
        wanted = fs::canonical(wanted); // the link stays, what it points to is replaced
    const fs::path folder = wanted.has_parent_path() ? wanted.parent_path() : fs::path(".");
    if (!fs::is_directory(folder, problem))
        throw OutputError(wanted, "cannot be written, there is no folder " + folder.string() + ": make it first");
    std::string name = ".";
    name += wanted.filename().string();
    name += ".tarry-";
    name += std::to_string(system::processId());
    written = folder / name;
    rememberPending(written);
}

SafeFile::~SafeFile()
{
    std::error_code ignored; // nothing more can be done about it
    if (!done) fs::remove(written, ignored);
    pending[0] = 0;
}

void SafeFile::commit()
{
    std::error_code problem;
    fs::rename(written, wanted, problem);
    if (problem) throw OutputError(wanted, "cannot be written (" + problem.message() + ")");
    done = true;
}

void writeTextFile(const fs::path& target, const std::string& text)
{
    const auto write = [&](const fs::path& place)
    {
        errno = 0;
        std::ofstream stream(place, std::ios::binary);
        stream << text << std::flush;
        if (!stream)
            throw OutputError(target, "cannot be written (" + std::string(std::strerror(errno != 0 ? errno : EIO)) +
                                          "): choose another folder or make room");
    };
    std::error_code problem;
    const auto status = fs::status(target, problem);
    if (fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status)) return write(target);

    SafeFile file(target);
    write(file.temporary());
    file.commit();
}

void refuseToOverwrite(const fs::path& output, const std::vector<fs::path>& inputs)
{
    for (const auto& input : inputs)
    {
        std::error_code problem;
        if (fs::equivalent(output, input, problem) && !problem)
            throw InputError(output, "is the same file as the input " + input.string() +
                                         ": give the output another name, Tarry never writes over an input");
    }
}

void cleanUpOnSignals()
{
    system::onInterruption(removePending);
}
} // namespace tarry
