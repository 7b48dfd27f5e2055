#include "Files/Checksum.h"

#include "Files/Errors.h"

#include <array>
#include <fstream>
#include <memory>
#include <openssl/evp.h>
#include <vector>

namespace tarry
{
namespace
{
class Sha256
{
public:
    Sha256() : context(EVP_MD_CTX_new()) { check(EVP_DigestInit_ex(context.get(), EVP_sha256(), nullptr)); }

    void add(const char* bytes, std::size_t count) { check(EVP_DigestUpdate(context.get(), bytes, count)); }

    [[nodiscard]] std::string hex()
    {
        std::array<unsigned char, 32> digest{};
        check(EVP_DigestFinal_ex(context.get(), digest.data(), nullptr));
        std::string text;
        for (const unsigned char byte : digest)
        {
            text += "0123456789abcdef"[byte / 16];
            text += "0123456789abcdef"[byte % 16];
        }
        return text;
    }

private:
    struct Closer
    {
        void operator()(EVP_MD_CTX* open) const noexcept { EVP_MD_CTX_free(open); }
    };

    static void check(int done)
    {
        if (done != 1) throw std::runtime_error("SHA-256 is not to be had from the system's OpenSSL");
    }

    std::unique_ptr<EVP_MD_CTX, Closer> context;
};
} // namespace

std::string sha256Of(std::string_view bytes)
{
    Sha256 sum;
    sum.add(bytes.data(), bytes.size());
    return sum.hex();
}

std::string sha256OfFile(const std::filesystem::path& file, const std::function<void()>& meanwhile)
{
    std::ifstream stream(file, std::ios::binary);
    if (!stream) throw InputError(file, "cannot be read");
    Sha256 sum;
    std::vector<char> block(1U << 18U);
    while (stream.read(block.data(), static_cast<std::streamsize>(block.size())) || stream.gcount() > 0)
    {
        sum.add(block.data(), static_cast<std::size_t>(stream.gcount()));
        if (meanwhile) meanwhile();
    }
    if (stream.bad()) throw InputError(file, "cannot be read to its end");
    return sum.hex();
}
} // namespace tarry
