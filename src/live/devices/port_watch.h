#pragma once

// Private to live/devices: which inputs are there, asked again and again without disturbing a
// sound server that plays: one connection to each system is kept.

#include <atomic>
#include <memory>
#include <string>
#include <vector>

#include "live/devices/rtmidi_api.h"

struct _jack_client;

namespace loftbeat::live {

struct PortName {
  std::string system;  // "JACK"
  std::string name;
};

// All calls from one thread.
class PortWatch {
 public:
  PortWatch() = default;
  ~PortWatch();
  PortWatch(const PortWatch&) = delete;
  PortWatch& operator=(const PortWatch&) = delete;

  [[nodiscard]] std::vector<PortName> ports();
  // Whether the server that ports() last saw has died; true once for each death. What was open on
  // it must not be closed any more: its library would crash.
  [[nodiscard]] bool jack_has_died();

 private:
  void look_at_jack(std::vector<PortName>& ports);
  void look_at_alsa(std::vector<PortName>& ports);

  _jack_client* jack_ = nullptr;
  // Belongs to the connection and outlives it, since a dead server's library may still call.
  std::atomic<bool>* shut_down_ = nullptr;
  std::unique_ptr<RtMidiIn> alsa_;
};

}  // namespace loftbeat::live
