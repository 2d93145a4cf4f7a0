#pragma once

#include <cstddef>
#include <memory>
#include <string>

#include "base/result.h"

namespace loftbeat::voice {

// A sound file being written: two channels of 24 bits at 48 kHz, WAV or FLAC by the name's ending.
// It grows beside its place and is moved there by close(); if close() is not reached, what was
// there before stays. Samples beyond full scale are clipped. One thread.
class SoundFile {
 public:
  // Errors: an ending other than .wav and .flac (wrong_use), a place that cannot be written.
  [[nodiscard]] static Result<SoundFile> create(const std::string& path);
  SoundFile(SoundFile&&) noexcept;
  SoundFile& operator=(SoundFile&&) noexcept;
  ~SoundFile();

  // At most 4096 frames at once. Errors: a full disk.
  [[nodiscard]] Status write(const float* left, const float* right, std::size_t frames);
  [[nodiscard]] Status close();

 private:
  struct Open;
  explicit SoundFile(std::unique_ptr<Open> open);
  std::unique_ptr<Open> open_;
};

inline constexpr std::size_t kMostFramesAtOnce = 4096;

}  // namespace loftbeat::voice
