#include "Files/SafeFile.h"

#include "Files/System.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <random>

namespace tarry
{
namespace
{
namespace fs = std::filesystem;

constexpr std::string_view namePrefix = ".tarry-", nameEnding = ".part";
constexpr std::size_t nameDigits = 16;

constexpr std::size_t longestPath = 4096;

// What the signal handler removes: it may touch no std::string. More than one where a session prints several at once.
struct Pending
{
    std::atomic<bool> taken{false}, ready{false};
    std::array<fs::path::value_type, longestPath> path{};
};
std::array<Pending, 64> pendingFiles;

std::size_t rememberPending(const fs::path& file)
{
    const auto& path = file.native();
    for (std::size_t i = 0; path.size() < longestPath && i < pendingFiles.size(); ++i)
        if (Pending& slot = pendingFiles[i]; !slot.taken.exchange(true))
        {
            std::copy(path.begin(), path.end(), slot.path.begin());
            slot.path[path.size()] = 0;
            slot.ready = true;
            return i;
        }
    return pendingFiles.size(); // not remembered: the next SafeFile in that folder removes it
}

void forgetPending(std::size_t slot)
{
    if (slot >= pendingFiles.size()) return;
    pendingFiles[slot].ready = false;
    pendingFiles[slot].taken = false;
}

void removePending(int signalNumber)
{
    for (auto& slot : pendingFiles)
        if (slot.ready) system::removeFromSignal(slot.path.data());
    std::signal(signalNumber, SIG_DFL);
    std::raise(signalNumber);
}

std::string describe(int error)
{
    return std::generic_category().message(error);
}

[[noreturn]] void refuse(const fs::path& file, int error)
{
    throw OutputError(file, "cannot be written " + whyAndWhatToDo(error));
}

std::string newName()
{
    std::random_device random; // the system's, so that nobody can put a file of that name there first
    std::string name(namePrefix);
    for (std::size_t i = 0; i < nameDigits; ++i) name += "0123456789abcdef"[random() % 16];
    return name.append(nameEnding);
}

bool isOurName(std::string_view name)
{
    if (name.size() != namePrefix.size() + nameDigits + nameEnding.size()) return false;
    return name.starts_with(namePrefix) && name.ends_with(nameEnding) &&
           name.substr(namePrefix.size(), nameDigits).find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// Removes what writers that no longer live have left in a folder.
void removeLeftovers(const fs::path& folder)
{
    std::error_code problem;
    for (const auto& entry : fs::directory_iterator(folder, problem))
        if (isOurName(entry.path().filename().string())) system::removeIfUnlocked(entry.path());
}
} // namespace

std::string whyAndWhatToDo(int error)
{
#ifdef EDQUOT
    const bool isQuota = error == EDQUOT;
#else
    const bool isQuota = false; // Windows knows none by number
#endif
    const bool isFull = error == ENOSPC || error == EFBIG || isQuota;
    const bool isForbidden = error == EACCES || error == EPERM || error == EROFS;
    const char* const todo = isFull        ? "make room, or choose another folder"
                             : isForbidden ? "choose a folder that you may write in"
                                           : "check the disk, or choose another folder";
    return std::string("(").append(describe(error)).append("): ").append(todo);
}

SafeFile::SafeFile(fs::path target, Existing whatIsThere) : wanted(std::move(target)), existing(whatIsThere)
{
    lookAtTarget();
    removeLeftovers(folder);
    create();
}

void SafeFile::lookAtTarget()
{
    std::error_code problem;
    const auto status = fs::status(wanted, problem);
    if (wanted.filename().empty() || fs::is_directory(status))
        throw OutputError(wanted, "is a folder: give the name of a file in it");
    if (fs::exists(status) && !fs::is_regular_file(status))
        throw OutputError(wanted, "is not a plain file: name another");
    replaces = fs::exists(status);
    if (replaces && existing == Existing::refuse)
        throw OutputError(wanted, "is there already: give another name, or --overwrite");
    if (fs::is_symlink(fs::symlink_status(wanted, problem)) && replaces)
        wanted = fs::canonical(wanted); // the link stays, what it points to is replaced
    folder = wanted.has_parent_path() ? wanted.parent_path() : fs::path(".");
    if (!fs::is_directory(folder, problem))
        throw OutputError(wanted, "cannot be written, there is no folder " + folder.string() + ": make it first");
    if (const auto longest = system::longestName(folder); wanted.filename().native().size() > longest)
        throw OutputError(wanted, "has a name that is too long for that folder (" + std::to_string(longest) +
                                      " bytes at most): give a shorter one");
}

void SafeFile::create()
{
    for (int attempt = 0; attempt < 100; ++attempt)
    {
        written = folder / newName();
        open = system::createLocked(written, replaces);
        if (open >= 0)
        {
            pendingSlot = rememberPending(written);
            return;
        }
        if (errno != EEXIST) refuse(wanted, errno);
    }
    throw OutputError(wanted, "cannot be written: no temporary file could be made beside it");
}

SafeFile::~SafeFile()
{
    if (open < 0) return;
    system::discard(open, written);
    forgetPending(pendingSlot);
}

void SafeFile::move()
{
    int error = 0;
    if (existing == Existing::refuse)
    {
        // A link never replaces what came there meanwhile; file systems without links get a last look instead.
        error = system::moveToFreePlace(written, wanted);
        if (error == EEXIST || (error != 0 && fs::exists(wanted)))
            throw OutputError(wanted, "is there already: give another name, or --overwrite");
        if (error == 0) return;
    }
    error = system::moveOver(written, wanted);
    if (error != 0) refuse(wanted, error);
}

void SafeFile::commit()
{
    if (replaces)
        if (const int error = system::keepModeAndOwner(open, wanted); error != 0) refuse(wanted, error);
    if (const int error = system::flush(open); error != 0) refuse(wanted, error);
    move(); // before the file is closed, whose lock says that its writer lives
    forgetPending(pendingSlot);
    system::close(open);
    open = -1;
    if (const int error = system::flushFolder(folder); error != 0)
        throw OutputError(wanted, "is written, but its folder could not be flushed to the disk (" + describe(error) +
                                      "): check the disk");
}

void writeTextFile(const fs::path& target, const std::string& text, Existing existing)
{
    std::error_code problem;
    const auto status = fs::status(target, problem);
    if (fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status))
    {
        if (const int error = system::writeToDevice(target, text); error != 0) refuse(target, error);
        return;
    }
    SafeFile file(target, existing);
    if (const int error = system::write(file.descriptor(), text); error != 0) refuse(target, error);
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
