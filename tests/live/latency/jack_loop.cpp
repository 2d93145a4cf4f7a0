#include "jack_loop.h"

#include <algorithm>
#include <chrono>
#include <cstring>

#include <jack/midiport.h>

namespace loftbeat::live {

JackLoop::JackLoop(const std::string& server, std::size_t most_frames) : samples_(most_frames) {
  client_ =
      jack_client_open("loop", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                       nullptr, server.c_str());
  if (client_ == nullptr) return;
  period_ = jack_get_buffer_size(client_);
  midi_ = jack_port_register(client_, "keys", JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput, 0);
  sound_ = jack_port_register(client_, "ear", JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
  jack_set_process_callback(client_, process, this);
  jack_set_xrun_callback(
      client_,
      [](void* self) {
        static_cast<JackLoop*>(self)->xruns_.fetch_add(1);
        return 0;
      },
      this);
  jack_activate(client_);
}

JackLoop::~JackLoop() {
  if (client_ != nullptr) jack_client_close(client_);
}

bool JackLoop::connect_sound() {
  const char** sources =
      jack_get_ports(client_, nullptr, JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput);
  bool found = false;
  for (const char** source = sources; source != nullptr && *source != nullptr; ++source) {
    if (std::strncmp(*source, "system:", 7) == 0) continue;
    found = jack_connect(client_, *source, jack_port_name(sound_)) == 0;
    break;
  }
  if (sources != nullptr) jack_free(sources);
  return found;
}

void JackLoop::strike(bool down, jack_nframes_t offset) {
  wanted_.store(1 + 2 * static_cast<int>(offset) + (down ? 1 : 0), std::memory_order_release);
}

void JackLoop::send(jack_nframes_t frames) {
  void* buffer = jack_port_get_buffer(midi_, frames);
  jack_midi_clear_buffer(buffer);
  const int wanted = wanted_.exchange(0, std::memory_order_acq_rel);
  const std::size_t at = struck_.load(std::memory_order_relaxed);
  if (wanted == 0 || at == kMostStrokes) return;
  const bool down = (wanted - 1) % 2 == 1;
  const auto offset = static_cast<jack_nframes_t>((wanted - 1) / 2);
  const jack_midi_data_t bytes[] = {static_cast<jack_midi_data_t>(down ? 0x90 : 0x80), 60, 100};
  if (jack_midi_event_write(buffer, std::min(offset, frames - 1), bytes, 3) != 0) return;
  strokes_[at] = {jack_last_frame_time(client_), down};
  struck_.store(at + 1, std::memory_order_release);
}

void JackLoop::record(jack_nframes_t frames) {
  const std::size_t at = recorded_.load(std::memory_order_relaxed);
  if (at == 0) first_frame_ = jack_last_frame_time(client_);
  const std::size_t some = std::min<std::size_t>(frames, samples_.size() - at);
  std::memcpy(samples_.data() + at, jack_port_get_buffer(sound_, frames), some * sizeof(float));
  recorded_.store(at + some, std::memory_order_release);
}

void JackLoop::note_cycle() {
  const std::size_t at = cycled_.load(std::memory_order_relaxed);
  if (at == kMostCycles) return;
  const auto now = std::chrono::steady_clock::now().time_since_epoch();
  cycles_[at] = {jack_last_frame_time(client_),
                 std::chrono::duration_cast<std::chrono::nanoseconds>(now).count()};
  cycled_.store(at + 1, std::memory_order_release);
}

int JackLoop::process(jack_nframes_t frames, void* self) {
  auto* loop = static_cast<JackLoop*>(self);
  loop->note_cycle();
  loop->send(frames);
  loop->record(frames);
  return 0;
}

void JackLoop::stop() { jack_deactivate(client_); }

std::vector<JackLoop::Stroke> JackLoop::strokes() const {
  const std::size_t count = struck_.load(std::memory_order_acquire);
  return {strokes_.begin(), strokes_.begin() + static_cast<std::ptrdiff_t>(count)};
}

std::vector<JackLoop::Cycle> JackLoop::cycles() const {
  const std::size_t count = cycled_.load(std::memory_order_acquire);
  return {cycles_.begin(), cycles_.begin() + static_cast<std::ptrdiff_t>(count)};
}

std::vector<float> JackLoop::heard() const {
  const std::size_t count = recorded_.load(std::memory_order_acquire);
  return {samples_.begin(), samples_.begin() + static_cast<std::ptrdiff_t>(count)};
}

}  // namespace loftbeat::live
