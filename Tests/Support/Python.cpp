#include "Support/Python.h"

namespace tarry::test
{
std::filesystem::path findPython(const std::string& module)
{
    for (const std::filesystem::path& candidate : {std::filesystem::path("/usr/bin/python3"), findProgram("python3")})
        if (std::filesystem::exists(candidate) && runProgram({candidate, "-c", "import " + module}).status == 0)
            return candidate;
    return {};
}

ProcessResult runPython(const std::filesystem::path& python, const std::string& script,
                        const std::vector<std::string>& arguments)
{
    std::vector<std::string> words = {python, "-c", script};
    words.insert(words.end(), arguments.begin(), arguments.end());
    return runProgram(words);
}

std::string withoutPython(const std::string& module)
{
    return "no python3 with " + module + " is installed";
}
} // namespace tarry::test
