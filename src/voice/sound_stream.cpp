#include "voice/sound_stream.h"

#include <algorithm>
#include <atomic>
#include <cctype>
#include <chrono>
#include <cstdlib>
#include <utility>

#include <fcntl.h>
#include <portaudio.h>
#include <unistd.h>

#include "voice/rt/event.h"

namespace loftbeat::voice {
namespace {

// A device whose callback has been silent for so long has gone away, whatever it says of itself.
constexpr auto kDeadAfter = std::chrono::milliseconds(1500);

Error failed(std::string message, std::string hint = {}) {
  return {ErrorKind::failed, std::move(message), "", 0, 0, std::move(hint)};
}

// While PortAudio looks for devices, sound systems that are not there complain on standard error
// by themselves.
class QuietErrors {
 public:
  QuietErrors() : kept_(dup(STDERR_FILENO)) {
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere < 0) return;
    dup2(nowhere, STDERR_FILENO);
    close(nowhere);
  }
  ~QuietErrors() {
    if (kept_ < 0) return;
    dup2(kept_, STDERR_FILENO);
    close(kept_);
  }
  QuietErrors(const QuietErrors&) = delete;
  QuietErrors& operator=(const QuietErrors&) = delete;

 private:
  int kept_;
};

class PortAudio {
 public:
  PortAudio() {
    const QuietErrors quiet;
    // A server that the user has not started stays so. (No other thread is in here by contract.)
    setenv("JACK_NO_START_SERVER", "1", 0);  // NOLINT(concurrency-mt-unsafe)
    trouble_ = Pa_Initialize();
  }
  ~PortAudio() {
    const QuietErrors quiet;
    if (trouble_ == paNoError) Pa_Terminate();
  }
  PortAudio(const PortAudio&) = delete;
  PortAudio& operator=(const PortAudio&) = delete;
  [[nodiscard]] Status status() const {
    if (trouble_ == paNoError) return {};
    return failed(std::string("the sound system cannot be started: ") + Pa_GetErrorText(trouble_) +
                  ".");
  }

 private:
  PaError trouble_ = paNoError;
};

std::string name_of(PaDeviceIndex index) {
  const PaDeviceInfo* info = Pa_GetDeviceInfo(index);
  const PaHostApiInfo* system = Pa_GetHostApiInfo(info->hostApi);
  return std::string(system != nullptr ? system->name : "") + ": " + info->name;
}

std::vector<PaDeviceIndex> outputs() {
  std::vector<PaDeviceIndex> list;
  for (PaDeviceIndex i = 0; i < Pa_GetDeviceCount(); ++i)
    if (Pa_GetDeviceInfo(i)->maxOutputChannels >= 2) list.push_back(i);
  return list;
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

Result<PaDeviceIndex> choose(const std::string& wanted) {
  const std::vector<PaDeviceIndex> list = outputs();
  if (list.empty())
    return failed("there is no sound device with two channels.",
                  "Connect one, or start the sound server; loftbeat devices says what answers.");
  if (wanted.empty()) {
    const PaDeviceIndex usual = Pa_GetDefaultOutputDevice();
    return std::find(list.begin(), list.end(), usual) != list.end() ? usual : list.front();
  }
  std::string known;
  for (const PaDeviceIndex index : list) {
    if (lower(name_of(index)).find(lower(wanted)) != std::string::npos) return index;
    known += (known.empty() ? "" : "; ") + name_of(index);
  }
  return Error{
      ErrorKind::wrong_use,       "no sound device is called \"" + wanted + "\".", "", 0, 0,
      "There are: " + known + "."};
}

std::int64_t steady_ns() {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

// What the callback needs.
//
// 1. `source` is set once the stream runs, so that all that was made before is seen by the
//    callback's thread, whenever the sound system started that thread. Until then: silence.
// 2. Each callback ends with a release on `calls`; an acquire of it after the stream has stopped
//    sees all that the callback did.
struct Link {
  std::atomic<StreamSource*> source{nullptr};
  std::atomic<std::uint64_t> underflows{0};
  std::atomic<std::uint64_t> calls{0};
  std::atomic<std::int64_t> last_call_ns{0};
};

int callback(const void* /*in*/, void* out, unsigned long frames,
             const PaStreamCallbackTimeInfo* /*time*/, PaStreamCallbackFlags flags, void* data) {
  auto* link = static_cast<Link*>(data);
  auto* const* channels = static_cast<float* const*>(out);
  StreamSource* source = link->source.load(std::memory_order_acquire);
  const std::int64_t now = steady_ns();
  link->last_call_ns.store(now, std::memory_order_relaxed);
  if (source == nullptr) {
    std::fill_n(channels[0], frames, 0.0F);
    std::fill_n(channels[1], frames, 0.0F);
    return paContinue;
  }
  if ((flags & paOutputUnderflow) != 0) link->underflows.fetch_add(1, std::memory_order_relaxed);
  source->render(channels[0], channels[1], frames, now);
  link->calls.fetch_add(1, std::memory_order_release);
  return paContinue;
}

}  // namespace

struct SoundStream::Parts {
  PortAudio audio;
  Link link;
  PaStream* stream = nullptr;
  std::string device;
  bool stopped = false;  // by us

  Parts() = default;
  ~Parts() {
    const QuietErrors quiet;
    if (stream != nullptr) Pa_CloseStream(stream);
    static_cast<void>(link.calls.load(std::memory_order_acquire));
  }
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;

  Status start(PaDeviceIndex index, std::size_t frames) {
    PaStreamParameters out{};
    out.device = index;
    out.channelCount = 2;
    out.sampleFormat = paFloat32 | paNonInterleaved;
    out.suggestedLatency = Pa_GetDeviceInfo(index)->defaultLowOutputLatency;
    device = name_of(index);
    const QuietErrors quiet;
    PaError trouble =
        Pa_OpenStream(&stream, nullptr, &out, rt::kSampleRate, frames, paNoFlag, callback, &link);
    if (trouble == paNoError) trouble = Pa_StartStream(stream);
    if (trouble == paNoError) return {};
    return failed(
        "the sound device " + device + " cannot be used: " + Pa_GetErrorText(trouble) + ".",
        "It has to take two channels at 48 kHz; --device names another.");
  }
};

Result<std::vector<Device>> sound_devices() {
  const PortAudio audio;
  if (Status status = audio.status(); !status) return status.error();
  std::vector<Device> devices;
  for (const PaDeviceIndex index : outputs())
    devices.push_back({name_of(index), index == Pa_GetDefaultOutputDevice()});
  return devices;
}

SoundStream::SoundStream(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}

// A device that has gone away is left open for good: closing it may wait for minutes for a server
// that has died (PortAudio on JACK). Should it wake up again, it gets silence.
SoundStream::~SoundStream() {
  if (parts_->stopped || runs()) return;
  parts_->link.source.store(nullptr, std::memory_order_release);
  static_cast<void>(parts_.release());
}

Result<std::unique_ptr<SoundStream>> SoundStream::open(const StreamOrder& order,
                                                       StreamSource& source) {
  auto parts = std::make_unique<Parts>();
  if (Status status = parts->audio.status(); !status) return status.error();
  const Result<PaDeviceIndex> device = choose(order.device);
  if (!device) return device.error();
  parts->link.last_call_ns.store(steady_ns(), std::memory_order_relaxed);
  if (Status status = parts->start(*device, order.frames); !status) return status.error();
  parts->link.source.store(&source, std::memory_order_release);
  return std::unique_ptr<SoundStream>(new SoundStream(std::move(parts)));
}

bool SoundStream::runs() const {
  const std::int64_t quiet =
      steady_ns() - parts_->link.last_call_ns.load(std::memory_order_relaxed);
  return Pa_IsStreamActive(parts_->stream) == 1 && std::chrono::nanoseconds(quiet) < kDeadAfter;
}

void SoundStream::stop() {
  const QuietErrors quiet;
  if (runs()) parts_->stopped = Pa_StopStream(parts_->stream) == paNoError;
  static_cast<void>(parts_->link.calls.load(std::memory_order_acquire));
}

const std::string& SoundStream::device() const { return parts_->device; }
double SoundStream::latency_seconds() const {
  const PaStreamInfo* info = Pa_GetStreamInfo(parts_->stream);
  return info != nullptr ? info->outputLatency : 0;
}
std::uint64_t SoundStream::underflows() const { return parts_->link.underflows.load(); }
std::uint64_t SoundStream::calls() const {
  return parts_->link.calls.load(std::memory_order_acquire);
}

}  // namespace loftbeat::voice
