// A practice with the program as it is, on a JACK server without hardware: what it does when asked,
// and what it does when something goes wrong.

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <thread>
#include <vector>

#include <gtest/gtest.h>
#include <rtmidi/RtMidi.h>

#include "../sound/jack_recorder.h"
#include "../sound/jack_server.h"
#include "base/file.h"
#include "listener.h"
#include "live/message_event.h"
#include "take/smf_take.h"

namespace loftbeat::live {
namespace {

using namespace std::chrono_literals;
using Bytes = std::vector<unsigned char>;

bool is_quick() { return std::getenv("LOFTBEAT_QUICK") != nullptr; }

class Practice : public ::testing::Test {
 protected:
  void SetUp() override {
    server_ = std::make_unique<voice::JackServer>();
    ASSERT_EQ(server_->trouble(), "");
    out_ = std::make_unique<RtMidiOut>(RtMidi::UNIX_JACK, "great");
    out_->openVirtualPort("keys");
    sessions_ = fresh_sessions(::testing::UnitTest::GetInstance()->current_test_info()->name());
  }
  void send(const Bytes& bytes) { out_->sendMessage(bytes.data(), bytes.size()); }
  void chord(const std::vector<unsigned char>& keys, std::chrono::milliseconds held) {
    for (const unsigned char key : keys) send({0x90, key, 80});
    std::this_thread::sleep_for(held);
    for (const unsigned char key : keys) send({0x80, key, 0});
  }
  // Part of the demo take, so many times as fast.
  void play_demo(double from_s, double to_s, double times) {
    const auto take =
        take::read_take(std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo.mid").value();
    const auto begin = std::chrono::steady_clock::now();
    for (const take::Event& event : take.events) {
      const auto message = message_of(event);
      const double at = seconds(event.at);
      if (!message || at < from_s || at > to_s) continue;
      std::this_thread::sleep_until(begin +
                                    std::chrono::duration_cast<std::chrono::nanoseconds>(
                                        std::chrono::duration<double>((at - from_s) / times)));
      out_->sendMessage(message->bytes.data(), message->size);
    }
  }

  std::unique_ptr<voice::JackServer> server_;
  std::unique_ptr<RtMidiOut> out_;
  std::string sessions_;
};

std::vector<std::size_t> click_begins(const std::vector<float>& samples) {
  std::vector<std::size_t> found;
  std::size_t quiet = 10'000;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (std::abs(samples[i]) > 1e-5F) {
      if (quiet > 4000) found.push_back(i);
      quiet = 0;
    } else {
      ++quiet;
    }
  }
  return found;
}

// The plan's beat is 76 a minute: 37894.7 frames. What comes out of the device keeps that to the
// frame, wherever the server lost none on the way.
TEST_F(Practice, ClicksComeOutOfTheDeviceAtTheirVeryFrame) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "always"});
  ASSERT_TRUE(listener.says("To be counted in")) << listener.output();
  voice::JackRecorder recorder(server_->name(), std::size_t{48'000} * 30);
  ASSERT_TRUE(recorder.runs());
  ASSERT_TRUE(recorder.connect());
  listener.press('\n');
  std::this_thread::sleep_for(is_quick() ? 5s : 12s);
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 0) << listener.output();
  const std::vector<std::size_t> begins = click_begins(recorder.stop(0));
  ASSERT_GE(begins.size(), is_quick() ? 5U : 13U);
  const double beat = 48'000 * 60 / 76.0;
  int exact = 0;
  for (std::size_t i = 1; i < begins.size(); ++i) {
    const double off = static_cast<double>(begins[i] - begins[i - 1]) - beat;
    if (std::abs(off) <= 1) ++exact;
  }
  std::printf("%d of %zu beats exact to the frame\n", exact, begins.size() - 1);
  // A busy machine may make the server drop a period between two clicks.
  EXPECT_GE(exact, static_cast<int>(begins.size()) - 3);
}

// Two bars of clicks and two without: the play-over is bars 1, 2, 11 and 12. The demo's player
// keeps within some hundredths of a second of the set tempo in it; here he begins by our watch.
TEST_F(Practice, TellsHowFarThePlayerMovedWhileTheClickRested) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "rests"});
  ASSERT_TRUE(listener.says("To be counted in")) << listener.output();
  listener.press('\n');
  // A bar of four at 76 a minute, and the moment before the first click.
  std::this_thread::sleep_for(3158ms + 400ms);
  play_demo(1.4, 19, 1);
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 0) << listener.output();
  const std::string output = listener.output();
  const auto rested = output.find("play-over, bars 11 to 12: ");
  ASSERT_NE(rested, std::string::npos) << output;
  EXPECT_NE(output.find("While the click rested"), std::string::npos);
  const double moved = std::stod(output.substr(rested + 26));
  EXPECT_LT(moved, 150) << output.substr(rested, 60);
}

TEST_F(Practice, ASignalFromTheKeyboardBeginsAndEndsItAndIsNotKept) {
  Listener listener(
      sessions_, {demo_plan(), "--input", "great", "--click", "count-in", "--signal", "note 21"});
  ASSERT_TRUE(listener.says("give the signal")) << listener.output();
  send({0x90, 21, 64});
  send({0x80, 21, 64});
  std::this_thread::sleep_for(500ms);
  chord({60, 64, 67}, 300ms);
  std::this_thread::sleep_for(200ms);
  send({0x90, 21, 64});
  EXPECT_NE(listener.ended(), -1) << listener.output();
  const auto events = kept_events(sessions_);
  EXPECT_EQ(events.size(), 6U);
  EXPECT_TRUE(std::none_of(events.begin(), events.end(),
                           [](const take::Event& event) { return event.data1 == 21; }));
}

// The joins of the demo take as its own review has them (unit_app holds the two reviews equal).
TEST_F(Practice, TellsEveryJoinWhileOnePlays) {
  Listener listener(sessions_, {demo_plan(), "--input", "great"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  play_demo(0, is_quick() ? 30 : 60, 2);
  EXPECT_TRUE(listener.says("play-over → 1: in time")) << listener.output();
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 0) << listener.output();
}

TEST_F(Practice, APartIsRehearsedAgainAndAgainAndTheFirstTryIsCold) {
  Listener listener(sessions_,
                    {demo_plan(), "--input", "great", "--only", "play-over", "--click", "off"});
  ASSERT_TRUE(listener.says("Try 1: the first today")) << listener.output();
  // Play-over and the first line of verse 1 last about 24 s in the take; played at double speed,
  // which the follower takes.
  for (int number = 1; number <= (is_quick() ? 1 : 2); ++number) {
    play_demo(0, 27, 2);
    ASSERT_TRUE(listener.says("Play-over against the first line of verse 1: tempo", number))
        << listener.output();
    EXPECT_TRUE(listener.says("Loudness ", number)) << listener.output();
    EXPECT_TRUE(listener.says("Try " + std::to_string(number + 1) + ".")) << listener.output();
  }
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 0) << listener.output();
}

TEST_F(Practice, StopsMovedByComputerKeysAreMarkedInTheTake) {
  Listener listener(sessions_,
                    {demo_plan(), "--input", "great", "--click", "off", "--stops", "keys"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  chord({60, 64, 67}, 200ms);
  listener.press('a');
  listener.press(' ');
  std::this_thread::sleep_for(200ms);
  chord({60, 64, 67}, 200ms);
  std::this_thread::sleep_for(200ms);
  listener.press('\n');
  EXPECT_NE(listener.ended(), -1) << listener.output();
  std::vector<std::string> marks;
  for (const take::Event& event : kept_events(sessions_))
    if (event.kind == take::EventKind::marker) marks.push_back(event.bytes);
  ASSERT_EQ(marks.size(), 2U);
  EXPECT_EQ(marks[0].rfind("stops: ", 0), 0U) << marks[0];
  EXPECT_NE(marks[1].find("+ Pedal Bass Flute 8"), std::string::npos) << marks[1];
}

// The server goes down in mid-verse: keyboard and sound with it.
TEST_F(Practice, WhatWasPlayedIsKeptWhenTheServerDies) {
  Listener listener(sessions_,
                    {demo_plan(), "--input", "great", "--click", "always", "--count-in", "0"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  listener.press('\n');
  chord({60, 64, 67, 72}, 400ms);
  std::this_thread::sleep_for(300ms);
  out_.reset();
  server_.reset();
  EXPECT_TRUE(listener.says("is gone; plug it in again")) << listener.output();
  EXPECT_TRUE(listener.says("The sound device is gone")) << listener.output();
  listener.press('\n');
  EXPECT_NE(listener.ended(), -1) << listener.output();
  EXPECT_EQ(kept_events(sessions_).size(), 8U);
}

// The plug is pulled in mid-verse with keys held, and put in again: no key hangs, and what comes
// after belongs to the same practice.
TEST_F(Practice, AKeyboardPulledOutInMidVerseIsToldAndTakenUpAgain) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "off"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  chord({60, 64, 67, 72}, 300ms);
  send({0x90, 60, 80});
  send({0x90, 65, 80});
  std::this_thread::sleep_for(100ms);
  out_.reset();
  ASSERT_TRUE(listener.says("is gone; plug it in again")) << listener.output();
  out_ = std::make_unique<RtMidiOut>(RtMidi::UNIX_JACK, "great");
  out_->openVirtualPort("keys");
  ASSERT_TRUE(listener.says("is back")) << listener.output();
  chord({62, 67}, 100ms);
  std::this_thread::sleep_for(100ms);
  listener.press('\n');
  EXPECT_NE(listener.ended(), -1) << listener.output();
  const std::vector<take::Event> events = kept_events(sessions_);
  ASSERT_EQ(events.size(), 16U);
  std::array<int, 128> down{};
  for (const take::Event& event : events)
    down.at(event.data1) += event.kind == take::EventKind::note_on ? 1 : -1;
  EXPECT_EQ(std::count(down.begin(), down.end(), 0), 128);
  EXPECT_EQ(events.back().data1, 67);
}

TEST_F(Practice, AFullDiskIsToldAndTheTakeIsKeptElsewhereOrLater) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "off"}, 4096);
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  for (int i = 0; i < 60; ++i) chord({60, 64, 67, 72}, 10ms);
  EXPECT_TRUE(listener.says("take.journal")) << listener.output();
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 1) << listener.output();
  EXPECT_NE(listener.output().find("What was played is in"), std::string::npos)
      << listener.output();
}

TEST_F(Practice, InterruptedByControlCTheTakeIsKeptAllTheSame) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "off"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  chord({60, 64, 67, 72}, 300ms);
  std::this_thread::sleep_for(100ms);
  listener.interrupt();
  EXPECT_NE(listener.ended(), -1) << listener.output();
  EXPECT_EQ(kept_events(sessions_).size(), 8U);
}

TEST_F(Practice, TheRanksSpeakAndBeginQuietly) {
  const std::string take = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo.mid";
  Listener listener(sessions_, {demo_plan(), "--replay", take, "--sound", "--stops", "plan"});
  ASSERT_TRUE(listener.says("Listening to the take")) << listener.output();
  EXPECT_NE(listener.output().find("Turn the volume low"), std::string::npos);
  voice::JackRecorder recorder(server_->name(), std::size_t{48'000} * 10);
  ASSERT_TRUE(recorder.runs());
  ASSERT_TRUE(recorder.connect());
  std::this_thread::sleep_for(6s);
  listener.interrupt();
  EXPECT_NE(listener.ended(), -1) << listener.output();
  const std::vector<float> heard = recorder.stop(0);
  float peak = 0;
  for (const float sample : heard) peak = std::max(peak, std::abs(sample));
  // A chord on a few stops lies near -30 dB of full scale (voice/instrument.h), the limit at -1.
  EXPECT_GT(peak, 0.003F);
  EXPECT_LE(peak, 0.8914F);
}

TEST_F(Practice, WhatAConsoleSendsIsLearnedByMovingIt) {
  const std::string organ =
      std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/crotchet-cross.organ.toml";
  const std::string to = sessions_ + ".organ.toml";
  std::filesystem::remove(to);
  const Listener::Command learn{{"learn", organ, "--to", to, "--input", "great"}};
  Listener learner(sessions_, learn);
  ASSERT_TRUE(learner.says(": draw it.")) << learner.output();
  send({0xB0, 80, 127});
  ASSERT_TRUE(learner.says("and push it in.")) << learner.output();
  send({0xB0, 80, 0});
  ASSERT_TRUE(learner.says("{ control = 80, channel = 1, on = 127, off = 0 }")) << learner.output();
  // A button that says the same for both is told, and left with Enter.
  ASSERT_TRUE(learner.says(": draw it.", 2));
  send({0xC0, 5});
  ASSERT_TRUE(learner.says("and push it in.", 2));
  send({0xC0, 5});
  ASSERT_TRUE(learner.says("send the same")) << learner.output();
  learner.press('\n');
  ASSERT_TRUE(learner.says(": draw it.", 4)) << learner.output();
  learner.press('.');
  EXPECT_EQ(learner.ended(), 0) << learner.output();
  EXPECT_NE(learner.output().find("1 control learned"), std::string::npos) << learner.output();
  const auto text = read_file(to);
  ASSERT_TRUE(text.ok());
  EXPECT_NE(text->find("midi = { control = 80, channel = 1, on = 127, off = 0 }"),
            std::string::npos);
}

// Until the middle of verse 1. That people follow and lag as they should is for unit_crowd.
TEST_F(Practice, PeopleSingAlongAndTheReviewSaysWhoLed) {
  const std::string take = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo.mid";
  Listener listener(sessions_, {demo_plan(), "--replay", take, "--singing", "80"});
  ASSERT_TRUE(listener.says("Listening to the take")) << listener.output();
  voice::JackRecorder recorder(server_->name(), std::size_t{48'000} * 60);
  ASSERT_TRUE(recorder.runs());
  ASSERT_TRUE(recorder.connect());
  const auto begin = std::chrono::steady_clock::now();
  std::this_thread::sleep_for(38s);
  // A server that stumbles leaves frames out, so that fewer are heard in a second.
  const std::vector<float> heard = recorder.stop(0);
  const std::chrono::duration<double> lasted = std::chrono::steady_clock::now() - begin;
  const double frames_a_second = static_cast<double>(heard.size()) / lasted.count();
  listener.interrupt();
  EXPECT_EQ(listener.ended(), 0) << listener.output();
  EXPECT_NE(listener.output().find("Who led"), std::string::npos) << listener.output();
  const auto is_heard = [&](double from_s, double to_s) {
    const auto frame = [&](double at) { return static_cast<std::ptrdiff_t>(at * frames_a_second); };
    return std::any_of(heard.begin() + frame(from_s), heard.begin() + frame(to_s),
                       [](float sample) { return std::abs(sample) > 1e-3F; });
  };
  // The play-over lasts until 14 s of the take; nobody sings in it.
  EXPECT_FALSE(is_heard(0, 11));
  EXPECT_TRUE(is_heard(24, 36));
}

// An input of our own, to which a keyboard connects; long exclusive messages as fast as they go.
TEST_F(Practice, ExclusiveMessagesInAFloodAreKeptOrCounted) {
  Listener listener(sessions_, {demo_plan(), "--own-input", "loft"});
  ASSERT_TRUE(listener.says("Listening to loft")) << listener.output();
  RtMidiOut out(RtMidi::UNIX_JACK, "console");
  unsigned port = 0;
  while (port < out.getPortCount() && out.getPortName(port).find("loft") == std::string::npos)
    ++port;
  ASSERT_LT(port, out.getPortCount());
  out.openPort(port, "keys");
  Bytes message(64, 0x11);
  message.front() = 0xF0;
  message.back() = 0xF7;
  for (int i = 0; i < 2000; ++i) {
    out.sendMessage(message.data(), message.size());
    std::this_thread::sleep_for(1ms);
  }
  const Bytes strike = {0x90, 60, 80};
  out.sendMessage(strike.data(), strike.size());
  std::this_thread::sleep_for(300ms);
  listener.press('\n');
  EXPECT_NE(listener.ended(), -1) << listener.output();
  const auto events = kept_events(sessions_);
  EXPECT_EQ(events.size(), 2001U);
  EXPECT_EQ(events.back().kind, take::EventKind::note_on);
}

// Promised: no event is lost at 1,000 a second for a minute. The events are numbered.
TEST_F(Practice, NoEventIsLostAtAThousandASecond) {
  Listener listener(sessions_, {demo_plan(), "--input", "great", "--click", "off"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  const int count = is_quick() ? 4'000 : 60'000;
  const auto begin = std::chrono::steady_clock::now();
  for (int i = 0; i < count; ++i) {
    std::this_thread::sleep_until(begin + std::chrono::milliseconds(i));
    send({0xB0, static_cast<unsigned char>(i % 120), static_cast<unsigned char>(i / 120 % 128)});
  }
  std::this_thread::sleep_for(500ms);
  listener.press('\n');
  EXPECT_NE(listener.ended(), -1) << listener.output();
  const auto events = kept_events(sessions_);
  int out_of_order = 0;
  for (std::size_t i = 0; i < events.size(); ++i) {
    const auto number = static_cast<int>(i);
    if (events[i].data1 != number % 120 || events[i].data2 != number / 120 % 128) ++out_of_order;
  }
  std::printf("%zu of %d events\n", events.size(), count);
  EXPECT_EQ(static_cast<int>(events.size()), count);
  EXPECT_EQ(out_of_order, 0);
}

}  // namespace
}  // namespace loftbeat::live
