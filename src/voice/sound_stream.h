#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"

namespace loftbeat::voice {

// The sound device, through PortAudio. PortAudio has one state a process: one thread at a time may
// be in here, and one stream at a time may be open.

struct Device {
  std::string name;  // as --device takes it: system and device, "JACK Audio Connection Kit: system"
  bool is_default = false;
};

// Devices with two channels out. Errors: PortAudio cannot be started.
[[nodiscard]] Result<std::vector<Device>> sound_devices();

// What a stream plays.
class StreamSource {
 public:
  virtual ~StreamSource() = default;
  // Audio thread: writes `frames` frames of both channels; no lock, allocation, file or log.
  // `now_ns`: the steady clock's time at which the call came.
  virtual void render(float* left, float* right, std::size_t frames, std::int64_t now_ns) = 0;
};

struct StreamOrder {
  std::string device;  // part of a name, upper or lower case; empty: the system's default
  // Frames of one call; 0: as the device has them, which is the quickest way from key to ear.
  std::size_t frames = 0;
};

// Sound running out of the device, from open() until it is destroyed.
class SoundStream {
 public:
  // `source` must outlive the stream. Errors: no device, no such device (with those there are), a
  // device that refuses 48 kHz.
  [[nodiscard]] static Result<std::unique_ptr<SoundStream>> open(const StreamOrder& order,
                                                                 StreamSource& source);
  ~SoundStream();  // stops; after it the source is seen as the callback left it
  SoundStream(const SoundStream&) = delete;
  SoundStream& operator=(const SoundStream&) = delete;

  // False once the device has gone away.
  [[nodiscard]] bool runs() const;
  // Ends the sound; after it the source is seen as the callback left it.
  void stop();
  [[nodiscard]] const std::string& device() const;
  [[nodiscard]] double latency_seconds() const;    // as the device states it
  [[nodiscard]] std::uint64_t underflows() const;  // times the device had to wait for us
  [[nodiscard]] std::uint64_t calls() const;       // of the source

 private:
  struct Parts;
  explicit SoundStream(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

}  // namespace loftbeat::voice
