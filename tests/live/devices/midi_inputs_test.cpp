// MIDI through a real server: RtMidi sends into JACK, our inputs take it out again. JACK runs
// without a sound device, in synchronous mode.

#include "live/devices/midi_inputs.h"

#include <unistd.h>

#include <cstdlib>
#include <thread>

#include <gtest/gtest.h>
#include <rtmidi/RtMidi.h>

#include "../sound/jack_server.h"
#include "live/devices/midi_ports.h"
#include "live/live.h"

namespace loftbeat::live {
namespace {

using take::EventKind;
using namespace std::chrono_literals;

// A keyboard that others may connect to.
class Keyboard {
 public:
  explicit Keyboard(const std::string& name) : out_(RtMidi::UNIX_JACK, name) {
    out_.openVirtualPort("keys");
  }
  void send(std::vector<unsigned char> bytes) { out_.sendMessage(&bytes); }

 private:
  RtMidiOut out_;
};

class MidiInputsTest : public ::testing::Test {
 protected:
  static void SetUpTestSuite() { server_ = new voice::JackServer; }
  static void TearDownTestSuite() {
    delete server_;
    server_ = nullptr;
  }
  void SetUp() override { ASSERT_EQ(server_->trouble(), ""); }

  // A journal of this test's own.
  static std::string journal_path() {
    const std::string path = ::testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + "-" +
                             ::testing::UnitTest::GetInstance()->current_test_info()->name();
    ::unlink(path.c_str());
    return path;
  }
  static std::vector<take::Event> events_in(const std::string& path) {
    const auto journal = take::read_journal(path);
    EXPECT_TRUE(journal.ok());
    return journal ? journal->take.events : std::vector<take::Event>{};
  }
  static bool wait_until(const std::function<bool()>& true_now) {
    for (int i = 0; i < 500 && !true_now(); ++i) std::this_thread::sleep_for(10ms);
    return true_now();
  }

  static voice::JackServer* server_;
};
voice::JackServer* MidiInputsTest::server_ = nullptr;

// A key's number and velocity count the messages.
std::vector<unsigned char> numbered(int i) {
  return {0x90, static_cast<unsigned char>(i % 128), static_cast<unsigned char>(1 + i / 128 % 127)};
}

bool right(const std::vector<take::Event>& events, int count) {
  if (static_cast<int>(events.size()) != count) return false;
  for (int i = 0; i < count; ++i) {
    const auto bytes = numbered(i);
    const take::Event& event = events[static_cast<std::size_t>(i)];
    if (event.data1 != bytes[1] || event.data2 != bytes[2]) return false;
  }
  return true;
}

TEST_F(MidiInputsTest, NothingIsLostAtAThousandASecondNorInABurst) {
  const int seconds = std::getenv("LOFTBEAT_QUICK") != nullptr ? 2 : 10;
  const int steady = 1000 * seconds;
  constexpr int kBurst = 1000;
  const std::string path = journal_path();
  Keyboard keyboard("great");
  MidiInputs inputs(MidiInputs::Clock::now());
  ASSERT_TRUE(inputs.open("GREAT").ok());
  Keeper keeper(inputs.queues(), take::JournalWriter::create(path).value());
  const auto begin = MidiInputs::Clock::now();
  for (int i = 0; i < steady; ++i) {
    keyboard.send(numbered(i));
    std::this_thread::sleep_until(begin + std::chrono::milliseconds(i + 1));
  }
  std::this_thread::sleep_for(50ms);
  for (int i = steady; i < steady + kBurst; ++i) keyboard.send(numbered(i));
  EXPECT_TRUE(wait_until([&] { return keeper.kept() == std::uint64_t(steady + kBurst); }));
  ASSERT_TRUE(keeper.end().ok());
  const InputState state = inputs.states().front();
  std::printf("%d messages, %d kept, %d too long, %d refused\n", steady + kBurst,
              static_cast<int>(keeper.kept()), static_cast<int>(state.too_long),
              static_cast<int>(state.refused));
  EXPECT_TRUE(right(events_in(path), steady + kBurst));
}

TEST_F(MidiInputsTest, TwoManualsAtOnceKeepTheirPorts) {
  Keyboard great("great");
  Keyboard swell("swell");
  MidiInputs inputs(MidiInputs::Clock::now());
  ASSERT_TRUE(inputs.open("great").ok());
  ASSERT_TRUE(inputs.open("swell").ok());
  EXPECT_FALSE(inputs.open("swell").ok());  // is open already
  const std::string path = journal_path();
  Keeper keeper(inputs.queues(), take::JournalWriter::create(path).value());
  great.send({0x90, 60, 64});
  swell.send({0x90, 67, 64});
  EXPECT_TRUE(wait_until([&] { return keeper.kept() == 2; }));
  ASSERT_TRUE(keeper.end().ok());
  for (const take::Event& event : events_in(path)) EXPECT_EQ(event.port, event.data1 == 60 ? 0 : 1);
}

TEST_F(MidiInputsTest, AKeyboardThatIsPulledOutLeavesNoKeyHangingAndMayComeBack) {
  MidiInputs inputs(MidiInputs::Clock::now());
  const std::string path = journal_path();
  auto keyboard = std::make_unique<Keyboard>("great");
  ASSERT_TRUE(inputs.open("great").ok());
  Keeper keeper(inputs.queues(), take::JournalWriter::create(path).value());
  keyboard->send({0x90, 60, 64});
  EXPECT_TRUE(wait_until([&] { return keeper.kept() == 1; }));
  keyboard.reset();
  EXPECT_TRUE(wait_until([&] {
    inputs.watch();
    return !inputs.states().front().there;
  }));
  EXPECT_TRUE(wait_until([&] { return keeper.kept() == 2; }));
  keyboard = std::make_unique<Keyboard>("great");
  EXPECT_TRUE(wait_until([&] {
    inputs.watch();
    return inputs.states().front().there;
  }));
  keyboard->send({0x90, 62, 64});
  EXPECT_TRUE(wait_until([&] { return keeper.kept() == 3; }));
  ASSERT_TRUE(keeper.end().ok());
  const auto events = events_in(path);
  ASSERT_EQ(events.size(), 3u);
  EXPECT_EQ(events[1].kind, EventKind::note_off);
  EXPECT_EQ(events[1].data1, 60);
  EXPECT_EQ(events[2].data1, 62);
  EXPECT_EQ(events[2].port, 0);
}

TEST_F(MidiInputsTest, AnInputOfOurOwnTakesWhatOthersSend) {
  MidiInputs inputs(MidiInputs::Clock::now());
  ASSERT_TRUE(inputs.open_virtual("jack", "listening").ok());
  EXPECT_FALSE(inputs.open_virtual("nosuch", "listening").ok());
  inputs.watch();
  EXPECT_TRUE(inputs.states().front().there);
  RtMidiOut out(RtMidi::UNIX_JACK, "pusher");
  for (unsigned port = 0; port < out.getPortCount(); ++port) {
    if (out.getPortName(port).find("listening") != std::string::npos) out.openPort(port, "keys");
  }
  std::vector<unsigned char> bytes = {0x90, 60, 64};
  EXPECT_TRUE(wait_until([&] {
    out.sendMessage(&bytes);
    return inputs.queues().front()->front() != nullptr;
  }));
}

TEST_F(MidiInputsTest, NamesThatFitNothingOrSeveralAreToldWithThoseThereAre) {
  Keyboard great("great organ");
  Keyboard choir("choir organ");
  MidiInputs inputs(MidiInputs::Clock::now());
  const Status none = inputs.open("pedal");
  ASSERT_FALSE(none.ok());
  EXPECT_NE(to_string(none.error()).find("great organ"), std::string::npos);
  const Status both = inputs.open("organ");
  ASSERT_FALSE(both.ok());
  EXPECT_NE(to_string(both.error()).find("choir organ"), std::string::npos);
  EXPECT_TRUE(inputs.open("choir").ok());
}

TEST_F(MidiInputsTest, EverySystemAnswersOrSaysWhyNot) {
  for (const MidiSystem& system : look_for_midi()) {
    EXPECT_FALSE(system.name.empty());
    EXPECT_TRUE(system.inputs.empty() || system.trouble.empty());
  }
}

}  // namespace
}  // namespace loftbeat::live
