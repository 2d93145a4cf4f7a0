#include "voice/playback.h"

#include <algorithm>
#include <atomic>
#include <cctype>
#include <chrono>
#include <cstdlib>
#include <thread>

#include <fcntl.h>
#include <portaudio.h>
#include <unistd.h>

namespace loftbeat::voice {
namespace {

constexpr unsigned long kDeviceFrames = 256;  // of one callback, as asked for
constexpr std::int64_t kReleaseFrames = rt::kSampleRate / 2;
constexpr std::int64_t kMostPlayedFrames = std::int64_t{1} << 60;
constexpr auto kLook = std::chrono::milliseconds(50);

Error failed(std::string message, std::string hint = {}) {
  return {ErrorKind::failed, std::move(message), "", 0, 0, std::move(hint)};
}

// While PortAudio looks for devices, sound systems that are not there complain on standard error
// by themselves.
class QuietErrors {
 public:
  QuietErrors() : kept_(dup(STDERR_FILENO)) {
    const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
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
                  "Write a file instead, with --to FILE.wav.");
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

// What the callback needs. It is the audio thread: no lock, no allocation, no file, no log.
//
// 1. `player` is set once the stream runs, so that all that was made before is seen by the
//    callback's thread, whenever the sound system started that thread. Until then: silence.
// 2. Each callback ends with a release on `calls`; an acquire of it after the stream has stopped
//    sees all that the callback did.
struct Link {
  std::atomic<rt::Player*> player{nullptr};
  std::atomic<std::uint64_t> underflows{0};
  std::atomic<std::uint64_t> calls{0};
};

int callback(const void* /*in*/, void* out, unsigned long frames,
             const PaStreamCallbackTimeInfo* /*time*/, PaStreamCallbackFlags flags, void* data) {
  auto* link = static_cast<Link*>(data);
  auto* const* channels = static_cast<float* const*>(out);
  rt::Player* player = link->player.load(std::memory_order_acquire);
  if (player == nullptr) {
    std::fill_n(channels[0], frames, 0.0F);
    std::fill_n(channels[1], frames, 0.0F);
    return paContinue;
  }
  if ((flags & paOutputUnderflow) != 0) link->underflows.fetch_add(1, std::memory_order_relaxed);
  player->render(channels[0], channels[1], frames);
  link->calls.fetch_add(1, std::memory_order_release);
  return paContinue;
}

class Stream {
 public:
  Stream() = default;
  ~Stream() {
    if (stream_ != nullptr) Pa_CloseStream(stream_);
  }
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;

  Status start(PaDeviceIndex device, Link& link) {
    PaStreamParameters out{};
    out.device = device;
    out.channelCount = 2;
    out.sampleFormat = paFloat32 | paNonInterleaved;
    out.suggestedLatency = Pa_GetDeviceInfo(device)->defaultLowOutputLatency;
    const QuietErrors quiet;
    PaError trouble = Pa_OpenStream(&stream_, nullptr, &out, rt::kSampleRate, kDeviceFrames,
                                    paNoFlag, callback, &link);
    if (trouble == paNoError) trouble = Pa_StartStream(stream_);
    if (trouble == paNoError) return {};
    return failed("the sound device " + name_of(device) +
                      " cannot be used: " + Pa_GetErrorText(trouble) + ".",
                  "It has to take two channels at 48 kHz; --device names another.");
  }
  [[nodiscard]] bool runs() const { return Pa_IsStreamActive(stream_) == 1; }
  void stop() { Pa_StopStream(stream_); }
  [[nodiscard]] double latency() const {
    const PaStreamInfo* info = Pa_GetStreamInfo(stream_);
    return info != nullptr ? info->outputLatency : 0;
  }

 private:
  PaStream* stream_ = nullptr;
};

// Waits for the end; false if the device went away.
bool wait_for_end(rt::Player& player, const PlaybackOrder& order, const Stream& stream) {
  const auto ringing = static_cast<std::int64_t>(player.tail_frames()) + kReleaseFrames;
  const std::int64_t end = order.frames > 0 ? order.frames + ringing : kMostPlayedFrames;
  while (player.frames_rendered() < end) {
    std::this_thread::sleep_for(kLook);
    if (!stream.runs()) return false;
    if (!order.state || order.state({player.frames_rendered(), player.take_least_gain()})) continue;
    // The player fades by itself; what it does not take (a full queue) ends with the stream.
    static_cast<void>(player.post({0, rt::Act::silence_everything, 0, 0, 0}));
    std::this_thread::sleep_for(4 * kLook);
    break;
  }
  return true;
}

}  // namespace

Result<std::vector<Device>> sound_devices() {
  const PortAudio audio;
  if (Status status = audio.status(); !status) return status.error();
  std::vector<Device> devices;
  for (const PaDeviceIndex index : outputs())
    devices.push_back({name_of(index), index == Pa_GetDefaultOutputDevice()});
  return devices;
}

Result<Played> play(rt::Player& player, const PlaybackOrder& order) {
  const PortAudio audio;
  if (Status status = audio.status(); !status) return status.error();
  const Result<PaDeviceIndex> device = choose(order.device);
  if (!device) return device.error();
  Link link;
  Stream stream;
  if (Status status = stream.start(*device, link); !status) return status.error();
  link.player.store(&player, std::memory_order_release);
  const double latency = stream.latency();
  const bool reached_the_end = wait_for_end(player, order, stream);
  stream.stop();
  static_cast<void>(link.calls.load(std::memory_order_acquire));
  if (!reached_the_end)
    return failed("the sound device " + name_of(*device) + " went away.",
                  "Is it still plugged in and switched on?");
  return Played{player.frames_rendered(), link.underflows.load(), latency};
}

}  // namespace loftbeat::voice
