#include "live/devices/port_watch.h"

#include <jack/jack.h>

namespace loftbeat::live {
namespace {

void note_shutdown(void* flag) { static_cast<std::atomic<bool>*>(flag)->store(true); }

}  // namespace

PortWatch::~PortWatch() {
  if (jack_ != nullptr && !shut_down_->load()) jack_client_close(jack_);
}

std::vector<PortName> PortWatch::ports() {
  std::vector<PortName> ports;
  look_at_alsa(ports);
  look_at_jack(ports);
  return ports;
}

bool PortWatch::jack_has_died() {
  if (jack_ == nullptr || !shut_down_->load()) return false;
  jack_ = nullptr;  // left as it is, and its flag with it
  shut_down_ = nullptr;
  return true;
}

void PortWatch::look_at_jack(std::vector<PortName>& ports) {
  if (jack_ != nullptr && shut_down_->load()) return;
  if (jack_ == nullptr) {
    jack_ = jack_client_open("loftbeat-look", JackNoStartServer, nullptr);
    if (jack_ == nullptr) return;
    shut_down_ = new std::atomic<bool>(false);
    jack_on_shutdown(jack_, note_shutdown, shut_down_);
  }
  const char** names = jack_get_ports(jack_, nullptr, JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput);
  for (const char** name = names; name != nullptr && *name != nullptr; ++name)
    ports.push_back({system_name(RtMidi::UNIX_JACK), *name});
  if (names != nullptr) jack_free(names);
}

void PortWatch::look_at_alsa(std::vector<PortName>& ports) {
  std::string trouble;
  if (!alsa_) alsa_ = make_input(RtMidi::LINUX_ALSA, trouble);
  if (!alsa_) return;
  for (unsigned port = 0; port < alsa_->getPortCount(); ++port)
    ports.push_back({system_name(RtMidi::LINUX_ALSA), alsa_->getPortName(port)});
}

}  // namespace loftbeat::live
