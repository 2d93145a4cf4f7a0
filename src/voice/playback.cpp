#include "voice/playback.h"

#include <chrono>
#include <thread>

namespace loftbeat::voice {
namespace {

constexpr std::size_t kDeviceFrames = 256;  // of one callback, as asked for
constexpr std::int64_t kReleaseFrames = rt::kSampleRate / 2;
constexpr std::int64_t kMostPlayedFrames = std::int64_t{1} << 60;
constexpr auto kLook = std::chrono::milliseconds(50);

class OfPlayer : public StreamSource {
 public:
  explicit OfPlayer(rt::Player& player) : player_(player) {}
  void render(float* left, float* right, std::size_t frames, std::int64_t /*now_ns*/) override {
    player_.render(left, right, frames);
  }

 private:
  rt::Player& player_;
};

// Waits for the end; false if the device went away.
bool wait_for_end(rt::Player& player, const PlaybackOrder& order, const SoundStream& stream) {
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

Result<Played> play(rt::Player& player, const PlaybackOrder& order) {
  OfPlayer source(player);
  Result<std::unique_ptr<SoundStream>> stream =
      SoundStream::open({order.device, kDeviceFrames}, source);
  if (!stream) return stream.error();
  const double latency = (*stream)->latency_seconds();
  const bool reached_the_end = wait_for_end(player, order, **stream);
  (*stream)->stop();
  if (!reached_the_end)
    return Error{ErrorKind::failed,
                 "the sound device " + (*stream)->device() + " went away.",
                 "",
                 0,
                 0,
                 "Is it still plugged in and switched on?"};
  return Played{player.frames_rendered(), (*stream)->underflows(), latency};
}

}  // namespace loftbeat::voice
