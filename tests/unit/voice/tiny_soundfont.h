#pragma once

#include <string>

namespace loftbeat::voice {

// The smallest SoundFont that speaks: preset 0 is a sine of amplitude kTinyAmplitude, looped, at
// the pitch of the key (A4 = 440 Hz), with no envelope to speak of. Written by hand from the
// SoundFont 2.04 specification, so that the tests of sounding lean on nothing else of the house.
inline constexpr double kTinyAmplitude = 0.1;
[[nodiscard]] std::string tiny_soundfont();

// The same written to a file of its own that is removed in the end.
class TinySoundFontFile {
 public:
  TinySoundFontFile();
  ~TinySoundFontFile();
  TinySoundFontFile(const TinySoundFontFile&) = delete;
  TinySoundFontFile& operator=(const TinySoundFontFile&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace loftbeat::voice
