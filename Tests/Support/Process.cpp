#include "Support/Process.h"

#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <spawn.h>
#include <sstream>
#include <sys/wait.h>
#include <system_error>
#include <unistd.h>

namespace tarry::test
{
namespace
{
std::string readAll(const std::filesystem::path& file)
{
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}
} // namespace

TemporaryFolder::TemporaryFolder()
{
    std::string pattern = (std::filesystem::temp_directory_path() / "tarry-test-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw std::system_error(errno, std::generic_category(), pattern);
    folder = pattern;
}

TemporaryFolder::~TemporaryFolder()
{
    std::error_code ignored; // a folder left in /tmp is no reason to fail
    std::filesystem::remove_all(folder, ignored);
}

ProcessResult runProgram(const std::vector<std::string>& programAndArguments)
{
    // Files, not pipes: no reader is needed while the program runs, however much it says.
    const TemporaryFolder folder;
    const std::string output = folder / "output";
    const std::string errors = folder / "errors";

    std::vector<std::string> words = programAndArguments;
    std::vector<char*> arguments;
    arguments.reserve(words.size() + 1);
    for (auto& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);

    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, output.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, errors.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    pid_t child = 0;
    const int failure = posix_spawnp(&child, arguments.front(), &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (failure != 0) throw std::system_error(failure, std::generic_category(), words.front());

    int state = 0;
    while (waitpid(child, &state, 0) < 0)
        if (errno != EINTR) throw std::system_error(errno, std::generic_category(), "waitpid");

    ProcessResult result;
    result.status = WIFEXITED(state) ? WEXITSTATUS(state) : 128 + WTERMSIG(state);
    result.output = readAll(output);
    result.errors = readAll(errors);
    return result;
}

std::filesystem::path findProgram(const std::string& name)
{
    const char* variable = std::getenv("PATH");
    std::istringstream folders(variable != nullptr ? variable : "/usr/bin:/bin");
    for (std::string folder; std::getline(folders, folder, ':');)
    {
        const std::filesystem::path candidate = std::filesystem::path(folder) / name;
        if (std::filesystem::is_regular_file(candidate) && access(candidate.c_str(), X_OK) == 0) return candidate;
    }
    return {};
}

std::string withoutProgram(const std::string& name)
{
    return "the program " + name + " is not installed";
}
} // namespace tarry::test
