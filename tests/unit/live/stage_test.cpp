// All that sounds while one plays, on samples: pipes that sound as a constant tell to the frame
// what was done when.

#include "live/rt/stage.h"

#include <cmath>

#include <gtest/gtest.h>

#include "../voice/constant_pipes.h"
#include "live/rt/ears.h"

namespace loftbeat::live::rt {
namespace {

using voice::rt::Act;
using voice::rt::ConstantPipes;

constexpr std::size_t kFrames = 128;
constexpr std::int64_t kFramesNs = 2'666'667;
constexpr std::size_t kLimiterFrames = voice::rt::Limiter::kDelayFrames;

class Room {
 public:
  Room() {
    voice::rt::PlayerSpec player;
    player.console.divisions = {{36, 96}, {36, 96}};
    player.console.stops = {{0}, {1}};
    player.pipes = std::make_unique<ConstantPipes>(std::vector<int>{0, 1});
    player.limiter = voice::rt::LimiterUse::off;
    player.quantum = kFrames;
    StageSpec spec;
    spec.player = std::make_unique<voice::rt::Player>(std::move(player));
    for (auto& ears : ears_) spec.queues.push_back(ears.of(Reader::sound));
    spec.stamps_begin_ns = kStart;
    for (std::size_t key = 0; key < 128; ++key) {
      spec.keys.division[0][key] = 0;
      spec.keys.division[1][key] = 1;
    }
    stage_ = std::make_unique<Stage>(std::move(spec));
    EXPECT_TRUE(stage_->post({0, Act::draw_stop, 0, 0, 0}));
    EXPECT_TRUE(stage_->post({0, Act::draw_stop, 0, 1, 0}));
  }

  void send(int input, std::vector<std::uint8_t> bytes, std::int64_t at_ns) {
    ears_[static_cast<std::size_t>(input)].receive(static_cast<std::uint8_t>(input), at_ns,
                                                   bytes.data(), bytes.size());
  }
  void send_as(std::uint8_t port, std::vector<std::uint8_t> bytes, std::int64_t at_ns) {
    ears_[0].receive(port, at_ns, bytes.data(), bytes.size());
  }
  void gone(int input) { ears_[static_cast<std::size_t>(input)].push(input_gone(1, now_)); }

  // One period; the stamps' time is that of its beginning.
  void period() {
    std::vector<float> left(kFrames);
    std::vector<float> right(kFrames);
    stage_->render(left.data(), right.data(), kFrames, kStart + now_);
    heard_.insert(heard_.end(), left.begin(), left.end());
    now_ += kFramesNs;
  }
  void periods(int count) {
    for (int i = 0; i < count; ++i) period();
  }

  // The frame at which the sound changes to so many pipes, the limiter's look ahead taken off.
  [[nodiscard]] std::size_t changes_to(int pipes, std::size_t from = 0) const {
    for (std::size_t i = from + kLimiterFrames; i < heard_.size(); ++i)
      if (std::abs(heard_[i] - 0.01F * static_cast<float>(pipes)) < 1e-5F)
        return i - kLimiterFrames;
    return 0;
  }
  [[nodiscard]] std::int64_t now() const { return now_; }
  [[nodiscard]] Stage& stage() { return *stage_; }

 private:
  static constexpr std::int64_t kStart = 77'000'000'000;
  std::vector<Ears> ears_ = [] {
    std::vector<Ears> made;
    made.emplace_back(std::vector{Reader::sound});
    made.emplace_back(std::vector{Reader::sound});
    return made;
  }();
  std::unique_ptr<Stage> stage_;
  std::vector<float> heard_;
  std::int64_t now_ = 0;
};

// A key speaks one period after its stamp, at the start of the block of 64 that this falls in.
TEST(Stage, KeysSpeakAFixedTimeAfterTheirStamp) {
  for (int step = 0; step < 20; ++step) {
    Room room;
    room.periods(100);
    const std::int64_t stamp = room.now() + step * 133'000;
    const double frame = static_cast<double>(stamp) * 48e-6 + kFrames;
    room.period();  // the call during which the key is struck
    room.send(0, {0x90, 60, 100}, stamp);
    room.periods(4);
    const std::size_t spoke = room.changes_to(1);
    EXPECT_LE(static_cast<double>(spoke), frame + 1) << step;
    EXPECT_GT(static_cast<double>(spoke), frame - 65) << step;
    EXPECT_EQ(room.stage().late_keys(), 0U);
  }
}

TEST(Stage, ChannelsPlayTheirDivisionsAndVelocityNoughtReleases) {
  Room room;
  room.periods(10);
  room.send(0, {0x90, 60, 1}, room.now());
  room.send(1, {0x91, 62, 127}, room.now());
  room.periods(4);
  const std::size_t both = room.changes_to(2);
  EXPECT_GT(both, 10 * kFrames);
  room.send(0, {0x90, 60, 0}, room.now());
  room.send(1, {0x81, 62, 64}, room.now());
  room.periods(4);
  EXPECT_GT(room.changes_to(0, both), both);
}

// A take may name ports beyond the number of inputs.
TEST(Stage, KeysOfAnyPortSpeak) {
  Room room;
  room.periods(10);
  room.send_as(7, {0x90, 60, 90}, room.now());
  room.send_as(255, {0x90, 64, 90}, room.now());
  room.periods(4);
  EXPECT_GT(room.changes_to(2), 0U);
}

TEST(Stage, AReleaseWithoutItsStrokeTakesNothingAway) {
  Room room;
  room.periods(10);
  room.send(0, {0x90, 60, 90}, room.now());
  room.periods(3);
  const std::size_t one = room.changes_to(1);
  ASSERT_GT(one, 0U);
  room.send(1, {0x80, 60, 64}, room.now());
  room.periods(5);
  EXPECT_EQ(room.changes_to(0, one), 0U);
}

TEST(Stage, AnInputThatIsPulledOutLeavesNoKeyHanging) {
  Room room;
  room.periods(10);
  for (std::uint8_t key = 60; key < 65; ++key) room.send(1, {0x90, key, 90}, room.now());
  room.send(0, {0x90, 70, 90}, room.now());
  room.periods(4);
  const std::size_t six = room.changes_to(6);
  ASSERT_GT(six, 0U);
  room.gone(1);
  room.periods(4);
  EXPECT_GT(room.changes_to(1, six), six) << "the other keyboard's key goes on";
}

TEST(Stage, ClicksAreMixedInAndTimesAreTold) {
  StageSpec spec;
  spec.clicks = {{0, true}, {1000, false}};
  Stage stage(std::move(spec));
  std::vector<float> left(kFrames);
  std::vector<float> right(kFrames);
  std::vector<float> heard;
  for (std::int64_t i = 0; i < 40; ++i) {
    if (i == 5) stage.metronome().start(stage.frame_at(i * kFramesNs) + 100);
    stage.render(left.data(), right.data(), kFrames, i * kFramesNs);
    heard.insert(heard.end(), left.begin(), left.end());
  }
  std::size_t first = 0;
  while (first < heard.size() && std::abs(heard[first]) < 1e-6F) ++first;
  EXPECT_EQ(first, 5 * kFrames + 100 + kLimiterFrames);
  int calls = 0;
  while (const StageTimes* times = stage.times().front()) {
    EXPECT_EQ(times->frame, calls * static_cast<std::int64_t>(kFrames));
    EXPECT_NEAR(static_cast<double>(times->at_ns), static_cast<double>(calls * kFramesNs), 1000);
    EXPECT_GE(times->spent_ns, 0);
    stage.times().pop();
    ++calls;
  }
  EXPECT_EQ(calls, 40);
}

}  // namespace
}  // namespace loftbeat::live::rt
