#pragma once

#include <complex>
#include <cstddef>
#include <memory>

namespace loftbeat {

// A spectrum that becomes a real signal (FFTW, double precision): signal[n] is the sum over all
// bins and their mirror images of value * exp(2 pi i bin n / samples), without any scaling. A tone
// of amplitude a at phase p is the value a/2 * exp(i p). Several threads may have one each.
class InverseTransform {
 public:
  explicit InverseTransform(std::size_t samples);  // 2 or more; all bins 0
  ~InverseTransform();
  InverseTransform(const InverseTransform&) = delete;
  InverseTransform& operator=(const InverseTransform&) = delete;

  [[nodiscard]] std::size_t samples() const { return samples_; }
  [[nodiscard]] std::size_t bins() const { return samples_ / 2 + 1; }

  void clear();
  // `bin` is below bins().
  void set(std::size_t bin, std::complex<double> value);
  void add(std::size_t bin, std::complex<double> value);

  // samples() values, valid until the next call. Spoils the spectrum: clear() it before using it
  // again.
  [[nodiscard]] const double* signal();

 private:
  struct Arrays;
  std::size_t samples_;
  std::unique_ptr<Arrays> arrays_;
};

}  // namespace loftbeat
