#pragma once
#include <complex>
#include <span>
#include <vector>

namespace tarry
{
/// Real FFT of one size over FFTW. Planned with FFTW_ESTIMATE, so that the same samples give the same spectrum on every
/// run. Creating and destroying take a lock (FFTW's planner is shared); transforming does not. One thread per instance.
class Fourier
{
public:
    explicit Fourier(int size);
    ~Fourier();
    Fourier(const Fourier&) = delete;
    Fourier& operator=(const Fourier&) = delete;

    [[nodiscard]] int size() const { return length; }
    [[nodiscard]] int bins() const { return length / 2 + 1; }

    std::span<double> time() { return {samples, static_cast<std::size_t>(length)}; }
    std::span<std::complex<double>> spectrum() { return {values, static_cast<std::size_t>(bins())}; }

    void forward(); ///< time → spectrum, not scaled
    void inverse(); ///< spectrum → time, scaled by 1/size: inverse(forward(x)) = x. Spoils the spectrum.

private:
    int length;
    double* samples;
    std::complex<double>* values;
    void *there, *back;
};

/// The next size that FFTW is fast at: even, with no prime factor above 5, not below n.
[[nodiscard]] int fastSize(int n);
} // namespace tarry
