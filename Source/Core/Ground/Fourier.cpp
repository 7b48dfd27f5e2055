#include "Core/Ground/Fourier.h"

#include <algorithm>
#include <fftw3.h>
#include <mutex>
#if defined(TARRY_FFTW_LOCKS) && __has_include(<dlfcn.h>)
#include <dlfcn.h>
#endif

namespace tarry
{
namespace
{
/// FFTW's planner is one for the whole process, and other binaries in it plan too: another copy of this one, another
/// plugin of the same host. Where FFTW can lock it for all of them, it does; `lock` serves where it cannot.
std::mutex& planner()
{
    static std::mutex lock;
#ifdef TARRY_FFTW_LOCKS
    static const bool locked = []
    {
        fftw_make_planner_thread_safe();
#ifdef RTLD_NODELETE
        // FFTW calls that library from now on, and may outlive this binary: it has to stay as long as the process.
        Dl_info library{};
        if (dladdr(reinterpret_cast<const void*>(&fftw_make_planner_thread_safe), &library) != 0)
            (void)dlopen(library.dli_fname, RTLD_LAZY | RTLD_NOLOAD | RTLD_NODELETE);
#endif
        return true;
    }();
    (void)locked;
#endif
    return lock;
}
} // namespace

Fourier::Fourier(int size)
    : length(size), samples(fftw_alloc_real(static_cast<std::size_t>(size))),
      values(reinterpret_cast<std::complex<double>*>(fftw_alloc_complex(static_cast<std::size_t>(size / 2 + 1))))
{
    const std::scoped_lock guard(planner());
    auto* complexValues = reinterpret_cast<fftw_complex*>(values);
    there = fftw_plan_dft_r2c_1d(size, samples, complexValues, FFTW_ESTIMATE);
    back = fftw_plan_dft_c2r_1d(size, complexValues, samples, FFTW_ESTIMATE);
}

Fourier::~Fourier()
{
    const std::scoped_lock guard(planner());
    fftw_destroy_plan(static_cast<fftw_plan>(there));
    fftw_destroy_plan(static_cast<fftw_plan>(back));
    fftw_free(samples);
    fftw_free(values);
}

void Fourier::forward()
{
    fftw_execute(static_cast<fftw_plan>(there));
}

void Fourier::inverse()
{
    fftw_execute(static_cast<fftw_plan>(back));
    for (double& x : time()) x /= length;
}

int fastSize(int n)
{
    for (int size = std::max(2, n + n % 2);; size += 2)
    {
        int rest = size;
        for (const int factor : {2, 3, 5})
            while (rest % factor == 0) rest /= factor;
        if (rest == 1) return size;
    }
}
} // namespace tarry
