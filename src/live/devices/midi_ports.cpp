#include "live/devices/midi_ports.h"

#include <alsa/asoundlib.h>
#include <jack/jack.h>

#include <iostream>
#include <sstream>

#include "live/devices/rtmidi_api.h"

namespace loftbeat::live {
namespace {

// ALSA's library writes to standard error by itself.
void keep_still(const char* /*file*/, int /*line*/, const char* /*function*/, int /*error*/,
                const char* /*format*/, ...) {}

void keep_still_too(const char* /*text*/) {}

// RtMidi tells what it finds on std::cerr before one can ask it not to.
class QuietErrors {
 public:
  QuietErrors() : before_(std::cerr.rdbuf(nowhere_.rdbuf())) {
    static_cast<void>(snd_lib_error_set_handler(keep_still));
    jack_set_error_function(keep_still_too);
    jack_set_info_function(keep_still_too);
  }
  ~QuietErrors() { std::cerr.rdbuf(before_); }
  QuietErrors(const QuietErrors&) = delete;
  QuietErrors& operator=(const QuietErrors&) = delete;

 private:
  std::ostringstream nowhere_;
  std::streambuf* before_;
};

void swallow(RtMidiError::Type /*type*/, const std::string& /*text*/, void* /*user*/) {}

std::string why_silent(RtMidi::Api api) {
  if (api == RtMidi::LINUX_ALSA)
    return "the system's MIDI (ALSA) does not answer: no MIDI device has been connected since the "
           "computer started, or you may not use it.";
  if (api == RtMidi::UNIX_JACK)
    return "no JACK server runs. That is no fault: start one to use it.";
  return "this system does not answer.";
}

bool jack_answers() {
  jack_client_t* client = jack_client_open("loftbeat-look", JackNoStartServer, nullptr);
  if (client == nullptr) return false;
  jack_client_close(client);
  return true;
}

}  // namespace

std::unique_ptr<RtMidiIn> make_input(RtMidi::Api api, std::string& trouble) {
  const QuietErrors quiet;
  try {
    auto input = std::make_unique<RtMidiIn>(api, kClientName);
    input->setErrorCallback(swallow);
    // A JACK input is made even where no server runs; then it can open no port of its own.
    if (api == RtMidi::UNIX_JACK && !jack_answers()) {
      trouble = why_silent(api);
      return nullptr;
    }
    return input;
  } catch (const RtMidiError&) {
    trouble = why_silent(api);
    return nullptr;
  }
}

std::vector<MidiSystem> look_for_midi() {
  std::vector<RtMidi::Api> apis;
  RtMidi::getCompiledApi(apis);
  std::vector<MidiSystem> systems;
  for (const RtMidi::Api api : apis) {
    if (api == RtMidi::RTMIDI_DUMMY) continue;
    MidiSystem system;
    system.name = system_name(api);
    if (const auto input = make_input(api, system.trouble)) {
      for (unsigned port = 0; port < input->getPortCount(); ++port)
        system.inputs.push_back(input->getPortName(port));
    }
    systems.push_back(std::move(system));
  }
  return systems;
}

}  // namespace loftbeat::live
