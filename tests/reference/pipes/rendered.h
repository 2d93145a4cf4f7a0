#pragma once

#include <memory>
#include <string>
#include <vector>

namespace loftbeat::pipes {

// What FluidSynth makes of a SoundFont at 48 kHz, its own gain taken off, one key at a time,
// velocity and volume at their highest, panned to the left, which is what is returned.
class Renderer {
 public:
  explicit Renderer(const std::string& soundfont);
  ~Renderer();
  [[nodiscard]] bool loaded() const { return font_ >= 0; }
  // The first `skip` seconds are left out. Velocity 1 to 127.
  std::vector<float> render(int program, int key, double skip, double seconds, int velocity = 127);

 private:
  struct Handles;
  std::unique_ptr<Handles> handles_;
  int font_ = -1;
};

// The sound with everything taken out that lies further than a semitone from `hz` (FFTW).
// The first and the last quarter are faded.
std::vector<float> isolated(const std::vector<float>& sound, double hz);

// The middle, by power, of what lies within a semitone of `hz` (FFTW): the pitch of a choir, whose
// voices differ by more than a pitch detector takes for one tone.
double middle_by_fftw(const std::vector<float>& sound, double hz);

// What aubio takes for the pitch (its fast harmonic comb, windows of 8192 points): the mean over
// the windows in the middle half, the first left out. Give it a second or more.
double pitch_by_aubio(const std::vector<float>& sound);

// Where the tests find what is built and what is kept.
std::string ranks_file();
std::string recipes_folder();

}  // namespace loftbeat::pipes
