// From a key over MIDI to the ear: a JACK client strikes keys and records what comes out of
// PortAudio, by the server's own count of frames. What lies between is the way that a practice
// has: RtMidi, our queue, the stage, the player in its blocks, the limiter, PortAudio. The pipes
// are a constant, so that the frame at which one speaks can be read off.
//
// Source of the bounds: the product's own promise. A delay of at most two periods over what the
// devices report; a spread of at most one period (all events of one are stamped alike, and the two
// clients run in either order) and one block of the synthesizer; of that the stage's own part, from
// the stamp to the block, at most 0.2 ms.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include <gtest/gtest.h>

#include "../../unit/voice/constant_pipes.h"
#include "../sound/jack_server.h"
#include "jack_loop.h"
#include "live/devices/midi_inputs.h"
#include "live/rt/stage.h"
#include "server_time.h"
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

std::int64_t steady_ns(MidiInputs::Clock::time_point time) {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(time.time_since_epoch()).count();
}

std::unique_ptr<OfStage> constant_stage(MidiInputs& inputs, MidiInputs::Clock::time_point start) {
  voice::rt::PlayerSpec player;
  player.console.divisions = {{36, 96}};
  player.console.stops = {{0}};
  player.pipes = std::make_unique<voice::rt::ConstantPipes>(std::vector<int>{0});
  player.limiter = voice::rt::LimiterUse::off;
  rt::StageSpec spec;
  spec.player = std::make_unique<voice::rt::Player>(std::move(player));
  spec.queues = inputs.queues(rt::Reader::sound);
  spec.stamps_begin_ns = steady_ns(start);
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

using Frames = std::vector<double>;  // sorted

double at_share(const Frames& frames, double share) {
  return frames[static_cast<std::size_t>(share * static_cast<double>(frames.size() - 1))];
}

std::string told(const Frames& frames) {
  const auto ms = [&](double share) { return at_share(frames, share) / 48; };
  std::array<char, 160> words{};
  std::snprintf(
      words.data(), words.size(),
      "%zu strokes, %.2f ms (least), %.2f (1 %%), %.2f (median), %.2f (99 %%), %.2f (most)",
      frames.size(), ms(0), ms(0.01), ms(0.5), ms(0.99), ms(1));
  return words.data();
}

struct Delays {
  Frames all;       // from the period of the stroke to the sound
  Frames in_time;   // of these the ones at which the server kept its own time
  Frames of_stamp;  // of these, from the stamp to the sound
  std::uint64_t late = 0;
  int xruns = 0;
  double reported = 0;
};

std::vector<std::int64_t> stamps(MidiInputs& inputs, std::int64_t start_ns) {
  std::vector<std::int64_t> found;
  rt::MessageQueue& queue = *inputs.queues(rt::Reader::engine).front();
  while (const rt::Message* message = queue.front()) {
    found.push_back(start_ns + message->at_ns);
    queue.pop();
  }
  return found;
}

// A second and a half before the stroke: so long the stage's clock remembers a shift.
bool is_in_time(const ServerTime& time, std::int64_t came) {
  return time.kept_time(came - 1'500'000'000, came + 30'000'000);
}

void judge(const JackLoop& loop, const std::vector<std::int64_t>& stamps, Delays& delays) {
  const ServerTime time(loop.cycles(), loop.period());
  const std::vector<float> heard = loop.heard();
  const std::vector<JackLoop::Stroke> strokes = loop.strokes();
  ASSERT_EQ(stamps.size(), strokes.size());
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    const std::int64_t struck = strokes[i].frame;
    const std::int64_t spoke = changes_after(heard, loop.first_frame(), struck, strokes[i].down);
    if (spoke < 0) continue;
    delays.all.push_back(static_cast<double>(spoke - struck));
    const auto came = time.came_at(strokes[i].frame);
    const auto stamped = time.frame_at(stamps[i]);
    if (!came || !stamped || !is_in_time(time, *came)) continue;
    delays.in_time.push_back(static_cast<double>(spoke - struck));
    delays.of_stamp.push_back(static_cast<double>(spoke) - *stamped);
  }
  for (Frames* frames : {&delays.all, &delays.in_time, &delays.of_stamp})
    std::sort(frames->begin(), frames->end());
}

Delays measured(const std::string& server, int strokes) {
  Delays delays;
  JackLoop loop(server, std::size_t{48'000} * 60);
  EXPECT_TRUE(loop.runs());
  const auto start = MidiInputs::Clock::now();
  MidiInputs inputs(start, {rt::Reader::sound, rt::Reader::engine});
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
  delays.late = source->stage().late_keys();
  delays.xruns = loop.xruns();
  (*stream)->stop();
  judge(loop, stamps(inputs, steady_ns(start)), delays);
  return delays;
}

TEST(Latency, AKeySpeaksAFixedTimeAfterItWasStruck) {
  const voice::JackServer server;
  if (!server.trouble().empty()) GTEST_SKIP() << "no sound server: " << server.trouble();
  const int strokes = std::getenv("LOFTBEAT_QUICK") != nullptr ? 60 : 500;
  const Delays delays = measured(server.name(), strokes);
  ASSERT_GE(delays.all.size(), static_cast<std::size_t>(strokes) * 9 / 10);
  std::printf("key to ear, all: %s; reported %.2f ms; %llu late, %d lost periods\n",
              told(delays.all).c_str(), delays.reported / 48,
              static_cast<unsigned long long>(delays.late), delays.xruns);
  if (kUnderSanitizer) return;
  constexpr std::size_t kEnough = 60;
  if (delays.in_time.size() < kEnough)
    GTEST_SKIP() << "the server kept its own time at only " << delays.in_time.size() << " of "
                 << delays.all.size() << " strokes";
  std::printf("where the server kept time: %s\n", told(delays.in_time).c_str());
  std::printf("from the stamp: %s\n", told(delays.of_stamp).c_str());
  constexpr double kPeriod = 128;
  constexpr double kBlock = voice::rt::kBlockFrames;
  constexpr double kOwnPart = 0.2 * 48;
  EXPECT_LE(at_share(delays.in_time, 0.99), delays.reported + 2 * kPeriod);
  EXPECT_LE(at_share(delays.in_time, 0.99) - at_share(delays.in_time, 0.01), kPeriod + kBlock);
  // Stamps fall anywhere in a block; what spreads further is the stage's own part.
  EXPECT_LE(at_share(delays.of_stamp, 0.99) - at_share(delays.of_stamp, 0.01), kBlock + kOwnPart);
}

}  // namespace
}  // namespace loftbeat::live
