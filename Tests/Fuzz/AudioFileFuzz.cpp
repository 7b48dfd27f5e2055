// Any bytes as a sound file: read as far as they go, or refused with an error of one line; never anything else.
#include "Files/AudioReader.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <sys/mman.h>
#include <unistd.h>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const int file = memfd_create("fuzz", 0);
    static const std::string path = "/proc/self/fd/" + std::to_string(file);
    if (ftruncate(file, 0) != 0 || pwrite(file, data, size, 0) != static_cast<ssize_t>(size)) return 0;
    try
    {
        tarry::AudioReader reader(path, 8);
        std::vector<std::vector<float>> block(static_cast<std::size_t>(reader.info().channels),
                                              std::vector<float>(512));
        std::vector<float*> pointers;
        for (auto& channel : block) pointers.push_back(channel.data());
        std::int64_t frames = 0;
        for (int got = 512; got == 512 && frames < 100000; frames += got) got = reader.read(pointers.data(), 512);
        if (frames < 100000 && frames != reader.info().frames) std::abort(); // all that the header promises, or refused
        (void)tarry::timeReference(reader.info());
        (void)tarry::originationDate(reader.info());
        auto like = reader.info();
        tarry::setTimeReference(like, 12345);
        tarry::addToCodingHistory(like, "Tarry");
        if (tarry::timeReference(like) != 12345) std::abort();
    }
    catch (const tarry::InputError& problem)
    {
        if (std::string(problem.what()).find('\n') != std::string::npos) std::abort();
    }
    return 0;
}
