// Playback as it comes out of the sound device: PortAudio into a JACK server without hardware, its
// output recorded and held against the same player rendered directly.

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "jack_recorder.h"
#include "jack_server.h"
#include "voice/playback.h"

namespace loftbeat::voice {
namespace {

// Each pipe that speaks is a slow saw of its own slope: a frame lost or doubled shows at once.
class Saws : public rt::PipeSource {
 public:
  void speak(int /*stop*/, int key) override { keys_ += key; }
  void hush(int /*stop*/, int key) override { keys_ -= key; }
  void bend(int /*division*/, double /*cents*/) override {}
  void cut_off() override { keys_ = 0; }
  void render(const std::vector<float*>& out, int blocks) override {
    for (int i = 0; i < blocks * rt::kBlockFrames; ++i) {
      ++frame_;
      const auto step = static_cast<float>(frame_ % 9973) / 9973.0F;
      if (keys_ > 0) out[0][i] += step * static_cast<float>(keys_) / 1000.0F;
    }
  }

 private:
  int keys_ = 0;
  long frame_ = 0;
};

std::unique_ptr<rt::Player> player() {
  rt::PlayerSpec spec;
  spec.console.divisions = {{36, 96}};
  spec.console.stops = {{0}};
  spec.pipes = std::make_unique<Saws>();
  rt::Convolver::Spec room;
  room.left = {0.5F, 0.25F};
  room.right = {0.25F, 0.5F};
  spec.room = rt::Convolver::make(room).value();
  return std::make_unique<rt::Player>(std::move(spec));
}

std::vector<rt::Event> events() {
  using rt::Act;
  std::vector<rt::Event> list = {{0, Act::draw_stop, 0, 0, 0}};
  for (std::int64_t i = 0; i < 40; ++i) {
    const auto key = static_cast<std::uint16_t>(60 + i % 7);
    list.push_back({48'000 + i * 2400, Act::key_down, 0, key, 0});
    list.push_back({48'000 + i * 2400 + 2000, Act::key_up, 0, key, 0});
  }
  return list;
}

constexpr int kMostLooks = 300;  // 15 s, for what lasts 4

std::size_t first_sound(const std::vector<float>& samples) {
  const auto first =
      std::find_if(samples.begin(), samples.end(), [](float x) { return std::abs(x) > 1e-4F; });
  return static_cast<std::size_t>(first - samples.begin());
}

class PlaybackTest : public ::testing::Test {
 protected:
  static void SetUpTestSuite() { server_ = std::make_unique<JackServer>(); }
  static void TearDownTestSuite() { server_.reset(); }
  void SetUp() override {
    if (!server_->trouble().empty()) GTEST_SKIP() << "no sound server: " << server_->trouble();
  }
  static std::unique_ptr<JackServer> server_;
};
std::unique_ptr<JackServer> PlaybackTest::server_;

std::vector<float> rendered_directly(const std::vector<rt::Event>& list, std::size_t frames) {
  const auto direct = player();
  direct->play(list);
  std::vector<float> left(frames);
  std::vector<float> right(frames);
  direct->render(left.data(), right.data(), frames);
  return left;
}

// How many frames, from the first that is not silence, are the same.
std::size_t alike(const std::vector<float>& heard, const std::vector<float>& expected) {
  std::size_t h = first_sound(heard);
  std::size_t e = first_sound(expected);
  const std::size_t begin = e;
  for (; h < heard.size() && e < expected.size(); ++h, ++e)
    if (std::abs(heard[h] - expected[e]) > 1e-6F) break;
  return e - begin;
}

struct Take {
  std::vector<float> heard;
  bool disturbed = false;  // the machine did not keep up: frames may be lost on the way
};

Take take_down(const std::string& server, const std::vector<rt::Event>& list, std::int64_t frames) {
  JackRecorder recorder(server, std::size_t{48'000} * 20);
  EXPECT_TRUE(recorder.runs());
  const auto playing = player();
  playing->play(list);
  bool listening = false;
  int looks = 0;
  PlaybackOrder order;
  order.device = "jack";
  order.frames = frames;
  order.state = [&](const PlaybackState&) {
    listening = listening || recorder.connect();
    return ++looks < kMostLooks;
  };
  const Result<Played> played = play(*playing, order);
  EXPECT_TRUE(played.ok()) << to_string(played.error());
  EXPECT_TRUE(listening);
  if (!played.ok()) return {};
  return {recorder.stop(0), played->underflows > 0 || looks >= kMostLooks};
}

TEST_F(PlaybackTest, WhatComesOutOfTheDeviceIsWhatWasRendered) {
  constexpr std::size_t kFrames = 150'000;
  constexpr std::size_t kHeldAgainst = 95'000;  // all 40 strokes, 2400 frames each
  const std::vector<rt::Event> list = events();
  const std::vector<float> expected = rendered_directly(list, kFrames);
  // A machine that is too busy loses frames between us and the recorder, and says so: tried again.
  for (int attempt = 0; attempt < 3; ++attempt) {
    const Take take = take_down(server_->name(), list, kFrames);
    const std::size_t same = alike(take.heard, expected);
    if (same >= kHeldAgainst) return;
    ASSERT_TRUE(take.disturbed) << "the two part after " << same << " frames";
  }
  GTEST_SKIP() << "this machine was too busy to keep up with the sound device";
}

TEST_F(PlaybackTest, EventsHandedOverWhileItPlaysAreHeardAndSilenceEndsIt) {
  JackRecorder recorder(server_->name(), std::size_t{48'000} * 20);
  ASSERT_TRUE(recorder.runs());
  const auto playing = player();
  int looks = 0;
  PlaybackOrder order;
  order.device = "jack";
  order.state = [&](const PlaybackState&) {
    static_cast<void>(recorder.connect());
    ++looks;
    if (looks == 10) {
      EXPECT_TRUE(playing->post({0, rt::Act::draw_stop, 0, 0, 0}));
      EXPECT_TRUE(playing->post({0, rt::Act::key_down, 0, 60, 0}));
    }
    return looks < 20;
  };
  const Result<Played> played = play(*playing, order);
  ASSERT_TRUE(played.ok()) << to_string(played.error());
  EXPECT_EQ(playing->speaking(), 0);
  EXPECT_LT(first_sound(recorder.stop(1)), std::size_t{48'000} * 20);
}

TEST_F(PlaybackTest, DevicesAreListedAndAWrongNameIsToldWithThoseThereAre) {
  const auto devices = sound_devices();
  ASSERT_TRUE(devices.ok()) << to_string(devices.error());
  ASSERT_FALSE(devices->empty());
  const auto playing = player();
  PlaybackOrder order;
  order.device = "no such thing";
  const auto played = play(*playing, order);
  ASSERT_FALSE(played.ok());
  EXPECT_NE(to_string(played.error()).find(devices->front().name), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::voice
