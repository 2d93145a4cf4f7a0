// A real take, sent through RtMidi into a JACK server without hardware, heard by the program.

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <thread>
#include <vector>

#include <gtest/gtest.h>
#include <rtmidi/RtMidi.h>

#include "../sound/jack_pulse.h"
#include "../sound/jack_server.h"
#include "listener.h"
#include "live/message_event.h"
#include "take/smf_take.h"

namespace loftbeat::live {
namespace {

using Clock = std::chrono::steady_clock;
using namespace std::chrono_literals;

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kUnderSanitizer = true;
#else
constexpr bool kUnderSanitizer = false;
#endif

// One message on its way: when it was handed to RtMidi, and when that call came back.
struct Sent {
  Clock::time_point before;
  Clock::time_point after;
};

std::vector<Sent> play(RtMidiOut& out, const take::Take& take, std::chrono::seconds how_long) {
  std::vector<Sent> sent;
  const auto begin = Clock::now();
  for (const take::Event& event : take.events) {
    const auto message = message_of(event);
    if (!message || event.at.time_since_epoch() > how_long) continue;
    std::this_thread::sleep_until(begin + event.at.time_since_epoch());
    const auto before = Clock::now();
    out.sendMessage(message->bytes.data(), message->size);
    sent.push_back({before, Clock::now()});
  }
  return sent;
}

std::vector<double> kept_seconds(const std::string& sessions) {
  std::vector<double> kept;
  for (const take::Event& event : kept_events(sessions)) kept.push_back(seconds(event.at));
  return kept;
}

// How far the steps between events are from those sent, ms, sorted; without events that the
// machine held up on their way.
std::vector<double> errors_ms(const std::vector<Sent>& sent, const std::vector<double>& heard,
                              const voice::JackPulse& pulse) {
  std::vector<double> delay;
  for (std::size_t i = 0; i < sent.size(); ++i) {
    const bool slow_call = sent[i].after - sent[i].before > 500us;
    if (slow_call ||
        pulse.held_up(sent[i].before - 3 * pulse.period(), sent[i].before + 3 * pulse.period()))
      continue;
    delay.push_back(heard[i] -
                    std::chrono::duration<double>(sent[i].before - sent[0].before).count());
  }
  std::vector<double> sorted = delay;
  std::sort(sorted.begin(), sorted.end());
  std::vector<double> off;
  for (const double one : delay) off.push_back(1000 * std::abs(one - sorted[sorted.size() / 2]));
  std::sort(off.begin(), off.end());
  return off;
}

// Promised: 99 % within 2.9 ms, median 1.5, wherever the server keeps its own time. Its period is
// 2.67 ms, and all events of one period are stamped alike: that much is the server's, not ours.
// (Under a sanitizer the program is no longer itself: there only the count is held.)
TEST(Listen, HearsATakeAsItWasPlayed) {
  const voice::JackServer server;
  ASSERT_EQ(server.trouble(), "");
  const std::string sessions = fresh_sessions("listen");
  RtMidiOut out(RtMidi::UNIX_JACK, "great");
  out.openVirtualPort("keys");
  Listener listener(sessions, {demo_plan(), "--input", "great"});
  ASSERT_TRUE(listener.says("Listening to")) << listener.output();
  const voice::JackPulse pulse(server.name());
  ASSERT_TRUE(pulse.runs());
  const auto take = take::read_take(std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo.mid");
  ASSERT_TRUE(take.ok());
  std::this_thread::sleep_for(100ms);
  const std::vector<Sent> sent =
      play(out, *take, std::getenv("LOFTBEAT_QUICK") != nullptr ? 6s : 20s);
  std::this_thread::sleep_for(300ms);
  listener.press('\n');
  EXPECT_EQ(listener.ended(), 0) << listener.output();
  const std::vector<double> heard = kept_seconds(sessions);
  ASSERT_EQ(heard.size(), sent.size());
  const std::vector<double> off = errors_ms(sent, heard, pulse);
  std::printf("%zu of %zu events while the server kept time\n", off.size(), sent.size());
  if (4 * off.size() < sent.size())
    GTEST_SKIP() << "the machine kept time at too few events to judge by";
  const double p99 = off[off.size() * 99 / 100];
  std::printf("off by %.2f ms (median), %.2f (99 %%), %.2f (most)\n", off[off.size() / 2], p99,
              off.back());
  if (kUnderSanitizer) return;
  EXPECT_LE(off[off.size() / 2], 1.5);
  EXPECT_LE(p99, 2.9);
}

}  // namespace
}  // namespace loftbeat::live
