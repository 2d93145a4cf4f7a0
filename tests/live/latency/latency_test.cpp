// From a key over MIDI to the ear: a JACK client strikes keys and records what comes out of
// PortAudio, by the server's own count of frames. What lies between is the way that a practice
// has: RtMidi, our queue, the stage, the player in its blocks, the limiter, PortAudio. The pipes
// are a constant, so that the frame at which one speaks can be read off.
//
// Source of the bounds: the product's own promise. A delay of at most two periods over what the
// devices report; a spread of at most one period (all events of one are stamped alike, and the two
// clients run in either order) and one block of the synthesizer.

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <thread>

#include <gtest/gtest.h>

#include "../../unit/voice/constant_pipes.h"
#include "../sound/jack_server.h"
#include "jack_loop.h"
#include "live/devices/midi_inputs.h"
#include "live/rt/stage.h"
#include "voice/sound_stream.h"

namespace loftbeat::live {
namespace {

using namespace std::chrono_literals;
using voice::rt::Act;

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kUnderSanitizer = true;
#else
constexpr bool kUnderSanitizer = false;
#endif

class OfStage : public voice::StreamSource {
 public:
  explicit OfStage(rt::StageSpec spec) : stage_(std::move(spec)) {}
  void render(float* left, float* right, std::size_t frames, std::int64_t now_ns) override {
    stage_.render(left, right, frames, now_ns);
  }
  [[nodiscard]] rt::Stage& stage() { return stage_; }

 private:
  rt::Stage stage_;
};

std::unique_ptr<OfStage> constant_stage(MidiInputs& inputs, MidiInputs::Clock::time_point start) {
  voice::rt::PlayerSpec player;
  player.console.divisions = {{36, 96}};
  player.console.stops = {{0}};
  player.pipes = std::make_unique<voice::rt::ConstantPipes>(std::vector<int>{0});
  player.limiter = voice::rt::LimiterUse::off;
  rt::StageSpec spec;
  spec.player = std::make_unique<voice::rt::Player>(std::move(player));
  spec.queues = inputs.queues(rt::Reader::sound);
  spec.stamps_begin_ns =
      std::chrono::duration_cast<std::chrono::nanoseconds>(start.time_since_epoch()).count();
  spec.keys.division[0].fill(0);
  auto made = std::make_unique<OfStage>(std::move(spec));
  EXPECT_TRUE(made->stage().post({0, Act::draw_stop, 0, 0, 0}));
  return made;
}

// The frame of the server's clock at which the sound changes after `from`; -1: never.
std::int64_t changes_after(const std::vector<float>& heard, std::int64_t first, std::int64_t from,
                           bool to_sound) {
  for (std::int64_t at = std::max<std::int64_t>(from - first, 0);
       at < static_cast<std::int64_t>(heard.size()); ++at) {
    if ((std::abs(heard[static_cast<std::size_t>(at)]) > 0.005F) == to_sound) return first + at;
  }
  return -1;
}

struct Delays {
  std::vector<double> frames;  // sorted, from the period of the stroke to the sound
  std::uint64_t late = 0;
  int xruns = 0;
  double reported = 0;
};

Delays measured(const std::string& server, int strokes) {
  Delays delays;
  JackLoop loop(server, std::size_t{48'000} * 60);
  EXPECT_TRUE(loop.runs());
  const auto start = MidiInputs::Clock::now();
  MidiInputs inputs(start, {rt::Reader::sound});
  EXPECT_TRUE(inputs.open("loop").ok());
  const auto source = constant_stage(inputs, start);
  auto stream = voice::SoundStream::open({"jack", 0}, *source);
  EXPECT_TRUE(stream.ok());
  if (!stream) return delays;
  for (int i = 0; i < 100 && !loop.connect_sound(); ++i) std::this_thread::sleep_for(20ms);
  std::this_thread::sleep_for(2s);  // until the clock knows the device
  delays.reported = (*stream)->latency_seconds() * 48'000;
  for (int i = 0; i < strokes; ++i) {
    loop.strike(i % 2 == 0, static_cast<jack_nframes_t>(i * 37 % 128));
    std::this_thread::sleep_for(std::chrono::microseconds(40'000 + i * 331 % 5'000));
  }
  std::this_thread::sleep_for(200ms);
  loop.stop();
  const std::vector<float> heard = loop.heard();
  for (const JackLoop::Stroke& stroke : loop.strokes()) {
    const std::int64_t spoke = changes_after(heard, loop.first_frame(), stroke.frame, stroke.down);
    if (spoke >= 0) delays.frames.push_back(static_cast<double>(spoke - stroke.frame));
  }
  std::sort(delays.frames.begin(), delays.frames.end());
  delays.late = source->stage().late_keys();
  delays.xruns = loop.xruns();
  (*stream)->stop();
  return delays;
}

TEST(Latency, AKeySpeaksAFixedTimeAfterItWasStruck) {
  const voice::JackServer server;
  if (!server.trouble().empty()) GTEST_SKIP() << "no sound server: " << server.trouble();
  const int strokes = std::getenv("LOFTBEAT_QUICK") != nullptr ? 60 : 400;
  const Delays delays = measured(server.name(), strokes);
  ASSERT_GE(delays.frames.size(), static_cast<std::size_t>(strokes) * 9 / 10);
  const auto at = [&](double share) {
    return delays
        .frames[static_cast<std::size_t>(share * static_cast<double>(delays.frames.size() - 1))];
  };
  const double ms = 1000.0 / 48'000;
  std::printf(
      "%zu strokes: %.2f ms (least), %.2f (1 %%), %.2f (median), %.2f (99 %%), %.2f (most); "
      "reported %.2f; %llu late, %d xruns\n",
      delays.frames.size(), at(0) * ms, at(0.01) * ms, at(0.5) * ms, at(0.99) * ms, at(1) * ms,
      delays.reported * ms, static_cast<unsigned long long>(delays.late), delays.xruns);
  if (kUnderSanitizer) return;
  constexpr double kPeriod = 128;
  constexpr double kBlock = voice::rt::kBlockFrames;
  EXPECT_LE(at(0.95), delays.reported + 2 * kPeriod);
  EXPECT_LE(at(0.95) - at(0.05), kPeriod + kBlock);
}

}  // namespace
}  // namespace loftbeat::live
