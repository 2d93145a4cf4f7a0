#include "jack_recorder.h"

#include <algorithm>
#include <cstring>

namespace loftbeat::voice {

JackRecorder::JackRecorder(const std::string& server, std::size_t most_frames) {
  for (std::vector<float>& channel : samples_) channel.resize(most_frames);
  client_ =
      jack_client_open("recorder", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                       nullptr, server.c_str());
  if (client_ == nullptr) return;
  ports_[0] = jack_port_register(client_, "left", JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
  ports_[1] = jack_port_register(client_, "right", JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
  jack_set_process_callback(client_, process, this);
  jack_activate(client_);
}

JackRecorder::~JackRecorder() {
  if (client_ != nullptr) jack_client_close(client_);
}

int JackRecorder::process(jack_nframes_t frames, void* self) {
  auto* recorder = static_cast<JackRecorder*>(self);
  const std::size_t at = recorder->recorded_.load(std::memory_order_relaxed);
  const std::size_t some = std::min<std::size_t>(frames, recorder->samples_[0].size() - at);
  for (std::size_t c = 0; c < 2; ++c) {
    const void* in = jack_port_get_buffer(recorder->ports_[c], frames);
    std::memcpy(recorder->samples_[c].data() + at, in, some * sizeof(float));
  }
  recorder->recorded_.store(at + some, std::memory_order_release);
  return 0;
}

bool JackRecorder::connect() {
  const char** sources =
      jack_get_ports(client_, nullptr, JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput);
  if (sources == nullptr) return false;
  std::vector<std::string> names;
  for (const char** source = sources; *source != nullptr; ++source)
    if (std::strncmp(*source, "system:", 7) != 0) names.emplace_back(*source);
  jack_free(sources);
  if (names.size() < 2) return false;
  for (std::size_t c = 0; c < 2; ++c)
    jack_connect(client_, names[c].c_str(), jack_port_name(ports_[c]));
  return true;
}

std::vector<float> JackRecorder::stop(std::size_t channel) {
  jack_deactivate(client_);
  const std::size_t recorded = recorded_.load(std::memory_order_acquire);
  return {samples_[channel].begin(),
          samples_[channel].begin() + static_cast<std::ptrdiff_t>(recorded)};
}

}  // namespace loftbeat::voice
