#include "rendered.h"

#include <aubio/aubio.h>
#include <fftw3.h>
#include <fluidsynth.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loftbeat::pipes {
namespace {

constexpr double kRate = 48000;
constexpr int kBlock = 64;
// What FluidSynth 2.3 adds at gain 1: 1.505 dB by its filter, whose Q of 0 is a quality of -3.01 dB
// that it makes up for by half, less 0.1 dB each by volume and expression, whose highest value, 127
// of 128, is not quite the whole.
const double kGain = std::pow(10.0, -1.305 / 20);

}  // namespace

struct Renderer::Handles {
  fluid_settings_t* settings = nullptr;
  fluid_synth_t* synth = nullptr;
};

Renderer::Renderer(const std::string& soundfont) : handles_(std::make_unique<Handles>()) {
  for (int level = FLUID_PANIC; level < LAST_LOG_LEVEL; ++level)
    fluid_set_log_function(level, nullptr, nullptr);
  handles_->settings = new_fluid_settings();
  fluid_settings_setnum(handles_->settings, "synth.sample-rate", kRate);
  fluid_settings_setnum(handles_->settings, "synth.gain", kGain);
  fluid_settings_setint(handles_->settings, "synth.reverb.active", 0);
  fluid_settings_setint(handles_->settings, "synth.chorus.active", 0);
  handles_->synth = new_fluid_synth(handles_->settings);
  font_ = fluid_synth_sfload(handles_->synth, soundfont.c_str(), 0);
  fluid_synth_set_interp_method(handles_->synth, -1, FLUID_INTERP_4THORDER);
}

Renderer::~Renderer() {
  delete_fluid_synth(handles_->synth);
  delete_fluid_settings(handles_->settings);
}

std::vector<float> Renderer::render(int program, int key, double skip, double seconds,
                                    int velocity) {
  fluid_synth_t* synth = handles_->synth;
  fluid_synth_all_sounds_off(synth, 0);
  fluid_synth_program_select(synth, 0, font_, 0, program);
  fluid_synth_cc(synth, 0, 7, 127);
  fluid_synth_cc(synth, 0, 10, 0);
  fluid_synth_noteon(synth, 0, key, velocity);
  const auto skipped = static_cast<int>(skip * kRate) / kBlock;
  const auto blocks = static_cast<int>(seconds * kRate) / kBlock;
  std::vector<float> left(kBlock);
  std::vector<float> right(kBlock);
  std::vector<float> sound;
  for (int i = 0; i < skipped + blocks; ++i) {
    fluid_synth_write_float(synth, kBlock, left.data(), 0, 1, right.data(), 0, 1);
    if (i >= skipped) sound.insert(sound.end(), left.begin(), left.end());
  }
  return sound;
}

namespace {

// The bins of a sound whose ends are faded, so that they make no bins of their own.
class Bins {
 public:
  explicit Bins(const std::vector<float>& sound)
      : n_(sound.size()),
        real_(static_cast<double*>(fftw_malloc(sizeof(double) * n_))),
        bins_(static_cast<fftw_complex*>(fftw_malloc(sizeof(fftw_complex) * (n_ / 2 + 1)))),
        there_(fftw_plan_dft_r2c_1d(static_cast<int>(n_), real_, bins_, FFTW_ESTIMATE)),
        back_(fftw_plan_dft_c2r_1d(static_cast<int>(n_), bins_, real_, FFTW_ESTIMATE)) {
    for (std::size_t i = 0; i < n_; ++i) {
      const double edge =
          4.0 * static_cast<double>(std::min(i, n_ - 1 - i)) / static_cast<double>(n_);
      const double s = std::sin(M_PI / 2 * std::min(1.0, edge));
      real_[i] = static_cast<double>(sound[i]) * s * s;
    }
    fftw_execute(there_);
  }
  ~Bins() {
    fftw_destroy_plan(there_);
    fftw_destroy_plan(back_);
    fftw_free(real_);
    fftw_free(bins_);
  }
  Bins(const Bins&) = delete;
  Bins& operator=(const Bins&) = delete;

  void keep_near(double hz) {
    const double semitone = std::exp2(1 / 12.0);
    for (std::size_t k = 0; k <= n_ / 2; ++k)
      if (hz_of(k) < hz / semitone || hz_of(k) > hz * semitone) bins_[k][0] = bins_[k][1] = 0;
  }
  [[nodiscard]] double middle_hz() const {
    double sum = 0;
    double weight = 0;
    for (std::size_t k = 0; k <= n_ / 2; ++k) {
      const double power = bins_[k][0] * bins_[k][0] + bins_[k][1] * bins_[k][1];
      sum += power * hz_of(k);
      weight += power;
    }
    return weight > 0 ? sum / weight : 0;
  }
  // Uses the bins up.
  std::vector<float> sound() {
    fftw_execute(back_);
    std::vector<float> out(n_);
    for (std::size_t i = 0; i < n_; ++i)
      out[i] = static_cast<float>(real_[i] / static_cast<double>(n_));
    return out;
  }

 private:
  [[nodiscard]] double hz_of(std::size_t k) const {
    return static_cast<double>(k) * kRate / static_cast<double>(n_);
  }
  std::size_t n_;
  double* real_;
  fftw_complex* bins_;
  fftw_plan there_;
  fftw_plan back_;
};

}  // namespace

std::vector<float> isolated(const std::vector<float>& sound, double hz) {
  Bins bins(sound);
  bins.keep_near(hz);
  return bins.sound();
}

double middle_by_fftw(const std::vector<float>& sound, double hz) {
  Bins bins(sound);
  bins.keep_near(hz);
  return bins.middle_hz();
}

double pitch_by_aubio(const std::vector<float>& sound) {
  constexpr uint_t kWindow = 8192;
  aubio_pitch_t* pitch = new_aubio_pitch("fcomb", kWindow, kWindow, static_cast<uint_t>(kRate));
  aubio_pitch_set_unit(pitch, "Hz");
  aubio_pitch_set_silence(pitch, -120);
  fvec_t* in = new_fvec(kWindow);
  fvec_t* out = new_fvec(1);
  double sum = 0;
  double weight = 0;
  const std::size_t first = sound.size() / 4;
  const std::size_t last = sound.size() - first;
  for (std::size_t at = first; at + kWindow <= last; at += kWindow) {
    double power = 0;
    for (uint_t i = 0; i < kWindow; ++i) {
      in->data[i] = sound[at + i];
      power += static_cast<double>(sound[at + i]) * static_cast<double>(sound[at + i]);
    }
    aubio_pitch_do(pitch, in, out);
    if (at == first) continue;
    sum += power * static_cast<double>(out->data[0]);
    weight += power;
  }
  del_aubio_pitch(pitch);
  del_fvec(in);
  del_fvec(out);
  return weight > 0 ? sum / weight : 0;
}

std::string ranks_file() { return std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts/ranks.sf2"; }
std::string recipes_folder() { return std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts"; }

}  // namespace loftbeat::pipes
