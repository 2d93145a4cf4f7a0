#include "base/inverse_transform.h"

#include <fftw3.h>

#include <algorithm>
#include <mutex>

namespace loftbeat {
namespace {

// FFTW's planner may run in one thread at a time, in the whole program.
std::mutex& planner() {
  static std::mutex mutex;
  return mutex;
}

}  // namespace

struct InverseTransform::Arrays {
  struct Free {
    void operator()(void* memory) const { fftw_free(memory); }
  };
  template <typename T>
  using Array = std::unique_ptr<T[], Free>;

  Array<double> signal;
  Array<std::complex<double>> spectrum;
  fftw_plan plan = nullptr;
};

InverseTransform::InverseTransform(std::size_t samples)
    : samples_(samples), arrays_(std::make_unique<Arrays>()) {
  arrays_->signal.reset(fftw_alloc_real(samples));
  // std::complex<double> has the layout of fftw_complex.
  auto* spectrum = fftw_alloc_complex(bins());
  arrays_->spectrum.reset(reinterpret_cast<std::complex<double>*>(spectrum));
  {
    const std::scoped_lock lock(planner());
    arrays_->plan = fftw_plan_dft_c2r_1d(static_cast<int>(samples), spectrum, arrays_->signal.get(),
                                         FFTW_ESTIMATE);
  }
  clear();
}

InverseTransform::~InverseTransform() {
  const std::scoped_lock lock(planner());
  fftw_destroy_plan(arrays_->plan);
}

void InverseTransform::clear() {
  std::fill_n(arrays_->spectrum.get(), bins(), std::complex<double>());
}

void InverseTransform::set(std::size_t bin, std::complex<double> value) {
  arrays_->spectrum[bin] = value;
}

void InverseTransform::add(std::size_t bin, std::complex<double> value) {
  arrays_->spectrum[bin] += value;
}

const double* InverseTransform::signal() {
  fftw_execute(arrays_->plan);
  return arrays_->signal.get();
}

}  // namespace loftbeat
