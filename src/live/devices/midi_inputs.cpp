#include "live/devices/midi_inputs.h"

#include <algorithm>
#include <cctype>
#include <utility>

#include "live/devices/port_watch.h"
#include "live/devices/rtmidi_api.h"

namespace loftbeat::live {
namespace {

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

std::string list_of(const std::vector<PortName>& ports) {
  std::string list;
  for (const PortName& port : ports) list += (list.empty() ? "" : ", ") + port.name;
  return list;
}

Error no_input(std::string message, std::string hint) {
  return {ErrorKind::failed, std::move(message), "", 0, 0, std::move(hint)};
}

RtMidi::Api api_named(const std::string& system) {
  std::vector<RtMidi::Api> apis;
  RtMidi::getCompiledApi(apis);
  const auto found = std::find_if(apis.begin(), apis.end(), [&](RtMidi::Api api) {
    return lower(system_name(api)) == lower(system);
  });
  return found == apis.end() ? RtMidi::UNSPECIFIED : *found;
}

std::int64_t since_epoch(std::chrono::steady_clock::time_point time) {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(time.time_since_epoch()).count();
}

// ALSA's own loop, which is always there and on which nobody plays.
bool is_loop(const PortName& port) { return lower(port.name).find("midi through") == 0; }

}  // namespace

struct MidiInputs::Input {
  InputState state;
  std::uint8_t port = 0;
  bool is_ours = false;  // others connect to it; it cannot be unplugged
  std::atomic<std::int64_t> start_ns{0};
  rt::Ears ears;
  std::atomic<std::uint64_t> pushed{0};
  std::atomic<std::uint64_t> too_long{0};
  std::unique_ptr<RtMidiIn> device;

  Input(const std::vector<rt::Reader>& readers, int channel) : ears(readers, channel) {}

  [[nodiscard]] std::int64_t now_ns() const {
    return since_epoch(Clock::now()) - start_ns.load(std::memory_order_relaxed);
  }

  // The callback: stamp, push, return.
  static void receive(double /*delta*/, std::vector<unsigned char>* bytes, void* user) {
    auto& self = *static_cast<Input*>(user);
    const auto done = self.ears.receive(self.port, self.now_ns(), bytes->data(), bytes->size());
    if (done == rt::Received::pushed) self.pushed.fetch_add(1, std::memory_order_relaxed);
    if (done == rt::Received::too_long) self.too_long.fetch_add(1, std::memory_order_relaxed);
  }

  [[nodiscard]] bool connect() {
    std::string trouble;
    device = make_input(api_named(state.system), trouble);
    if (device == nullptr) return false;
    for (unsigned at = 0; at < device->getPortCount(); ++at) {
      if (device->getPortName(at) != state.name) continue;
      listen();
      try {
        device->openPort(at, "in");
      } catch (const RtMidiError&) {
        return false;
      }
      return state.there = true;
    }
    return false;
  }

  void listen() {
    device->ignoreTypes(false, true, true);
    device->setCallback(&Input::receive, this);
  }

  // A device on a server that has died is not closed: its library would crash.
  void server_died() {
    if (state.system != system_name(RtMidi::UNIX_JACK) || !state.there) return;
    static_cast<void>(device.release());
    is_ours = false;  // nobody can connect to it any more
    disconnect();
  }

  // The callback's thread pushes no more once the device is closed: then this thread may.
  void disconnect() {
    device.reset();
    state.there = false;
    static_cast<void>(ears.push(rt::input_gone(port, now_ns())));
  }
};

MidiInputs::MidiInputs(Clock::time_point start, std::vector<rt::Reader> readers)
    : start_(start), readers_(std::move(readers)), watch_(std::make_unique<PortWatch>()) {}

MidiInputs::~MidiInputs() {
  if (watch_->jack_has_died())
    for (const auto& input : inputs_) input->server_died();
}

std::unique_ptr<MidiInputs::Input> MidiInputs::make_input_of(std::string system, std::string name,
                                                             int channel) const {
  auto input = std::make_unique<Input>(readers_, channel);
  input->state.system = std::move(system);
  input->state.name = std::move(name);
  input->port = static_cast<std::uint8_t>(inputs_.size());
  input->start_ns.store(since_epoch(start_), std::memory_order_relaxed);
  return input;
}

Status MidiInputs::open(const std::string& name, int channel) {
  std::vector<PortName> ports = watch_->ports();
  if (name.empty()) ports.erase(std::remove_if(ports.begin(), ports.end(), is_loop), ports.end());
  std::vector<PortName> meant;
  for (const PortName& port : ports) {
    if (port.name == name) meant.assign(1, port);
    if (port.name == name) break;
    if (lower(port.name).find(lower(name)) != std::string::npos) meant.push_back(port);
  }
  if (ports.empty())
    return no_input("there is no MIDI input.",
                    "Connect the keyboard and switch it on, or start JACK.");
  if (meant.empty())
    return no_input("there is no MIDI input \"" + name + "\".",
                    "There are: " + list_of(ports) + ".");
  if (meant.size() > 1 && name.empty())
    return no_input("there are several MIDI inputs: " + list_of(meant) + ".",
                    "Say which to listen to, as --input with a part of its name.");
  if (meant.size() > 1)
    return no_input("\"" + name + "\" may be any of " + list_of(meant) + ".", "Write more of it.");
  for (const auto& input : inputs_) {
    if (input->state.name == meant.front().name && input->state.system == meant.front().system)
      return no_input("\"" + meant.front().name + "\" is open already.", "Name another one.");
  }
  std::unique_ptr<Input> input = make_input_of(meant.front().system, meant.front().name, channel);
  if (!input->connect())
    return no_input("\"" + meant.front().name + "\" cannot be opened.",
                    "Close other programs that hold it, and try again.");
  inputs_.push_back(std::move(input));
  return {};
}

Status MidiInputs::open_virtual(const std::string& system, const std::string& name) {
  if (system.empty()) {
    for (const RtMidi::Api api : {RtMidi::UNIX_JACK, RtMidi::LINUX_ALSA})
      if (open_virtual(system_name(api), name)) return {};
    return no_input("no MIDI system answers.", "Start JACK, or load the system's own MIDI.");
  }
  std::string trouble = "there is no MIDI system \"" + system + "\" here.";
  const RtMidi::Api api = api_named(system);
  std::unique_ptr<Input> input = make_input_of(system, name, rt::Ears::kAsSent);
  if (api != RtMidi::UNSPECIFIED) input->device = make_input(api, trouble);
  if (input->device == nullptr) return no_input(trouble, "");
  input->listen();
  try {
    input->device->openVirtualPort(name);
  } catch (const RtMidiError&) {
    return no_input("an input of our own cannot be made.", "Connect to a port that is there.");
  }
  input->state.there = true;
  input->is_ours = true;
  inputs_.push_back(std::move(input));
  return {};
}

void MidiInputs::count_from(Clock::time_point start) {
  start_ = start;
  for (const auto& input : inputs_) {
    input->start_ns.store(since_epoch(start), std::memory_order_relaxed);
    for (const rt::Reader reader : {rt::Reader::keeper, rt::Reader::engine}) {
      rt::MessageQueue* queue = input->ears.of(reader);
      while (queue != nullptr && queue->front() != nullptr) queue->pop();
    }
  }
}

void MidiInputs::watch() {
  const std::vector<PortName> ports = watch_->ports();
  for (const auto& input : inputs_) {
    const bool listed = std::any_of(ports.begin(), ports.end(), [&](const PortName& port) {
      return port.system == input->state.system && port.name == input->state.name;
    });
    if (input->is_ours) continue;
    if (input->state.there && !listed) input->disconnect();
    if (!input->state.there && listed) static_cast<void>(input->connect());
  }
}

std::vector<rt::MessageQueue*> MidiInputs::queues(rt::Reader reader) {
  std::vector<rt::MessageQueue*> queues;
  for (const auto& input : inputs_)
    if (rt::MessageQueue* queue = input->ears.of(reader)) queues.push_back(queue);
  return queues;
}

std::vector<InputState> MidiInputs::states() const {
  std::vector<InputState> states;
  for (const auto& input : inputs_) {
    states.push_back(input->state);
    states.back().messages = input->pushed.load(std::memory_order_relaxed);
    states.back().too_long = input->too_long.load(std::memory_order_relaxed);
    states.back().refused = input->ears.refused();
  }
  return states;
}

}  // namespace loftbeat::live
