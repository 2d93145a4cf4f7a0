#include <algorithm>
#include <cmath>
#include <set>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

std::set<int> channels(const Performance& played) {
  std::set<int> found;
  for (const take::Event& event : played.take.events) found.insert(event.channel);
  return found;
}

TEST(ConsoleTest, SendsEachDivisionOnItsChannel) {
  Scene made = scene();
  EXPECT_EQ(channels(made.play()), std::set<int>{0});
  made.player.console.layout = ChannelLayout::hands_and_pedal;
  EXPECT_EQ(channels(made.play()), (std::set<int>{0, 2}));
  made.player.console.layout = ChannelLayout::hands_apart;
  EXPECT_EQ(channels(made.play()), (std::set<int>{0, 1, 2}));
}

TEST(ConsoleTest, CoupledKeysComeTwiceWithinTenMilliseconds) {
  Scene made = scene();
  made.player.console.coupled = true;
  made.player.console.layout = ChannelLayout::hands_and_pedal;
  const Performance played = made.play();
  int twins = 0;
  for (const take::Event& event : played.take.events) {
    if (event.channel != 3 || event.kind != take::EventKind::note_on) continue;
    ++twins;
    const bool found = std::any_of(
        played.truth.notes.begin(), played.truth.notes.end(), [&](const TrueNote& note) {
          const double late = ms_apart(event.at, note.on);
          return note.channel == 0 && note.pitch == event.data1 && late >= 0 && late <= 10;
        });
    EXPECT_TRUE(found);
  }
  EXPECT_GT(twins, 50);
}

TEST(ConsoleTest, WirelessPacketsLieOnALatticeAndKeepOrder) {
  Scene made = scene();
  made.player.onset.note_jitter_ms = 10;
  made.player.console.bunch_ms = 15;
  const Performance played = made.play();
  Instant last;
  for (const take::Event& event : played.take.events) {
    EXPECT_GE(event.at, last);
    last = event.at;
    const double steps = seconds(event.at) / 0.015;
    EXPECT_NEAR(steps, std::round(steps), 1e-6);
  }
  for (const TrueNote& note : played.truth.notes) {
    EXPECT_GE(ms_apart(note.stamped_on, note.on), -1e-3);
    EXPECT_LE(ms_apart(note.stamped_on, note.on), 15.001);
  }
}

TEST(ConsoleTest, ADriftingClockStretchesTheStamps) {
  Scene made = scene();
  made.player.console.clock_drift_ppm = 200;
  for (const TrueNote& note : made.play().truth.notes) {
    EXPECT_NEAR(seconds(note.stamped_on), seconds(note.on) * 1.0002, 1e-8);
  }
}

TEST(ConsoleTest, APistonSendsOneMovementAtEachJoin) {
  Scene made = scene();
  StopMove piston;
  piston.anchor = StopAnchor::next_onset;
  piston.offset_ms = -300;
  piston.messages = piston_messages(15, 12);
  made.player.stop_moves = {piston};
  const Performance played = made.play();
  ASSERT_EQ(played.truth.stop_moves.size(), played.truth.joins.size());
  for (const TrueStopMove& move : played.truth.stop_moves) {
    const TrueJoin& join = played.truth.joins[static_cast<std::size_t>(move.join)];
    EXPECT_NEAR(ms_apart(move.first, join.next_onset), -300, 1e-3);
    EXPECT_LE(ms_apart(move.last, move.first), 150);
    EXPECT_EQ(move.messages, 12);
  }
  const auto sent = std::count_if(
      played.take.events.begin(), played.take.events.end(),
      [](const take::Event& event) { return event.kind == take::EventKind::control; });
  EXPECT_EQ(sent, 36);
}

TEST(ConsoleTest, ASustainingPlayerUsesThePedalInThatPassOnly) {
  Scene made = scene();
  made.player.faults = {{FaultKind::sustained, 1}};
  const Performance played = made.play();
  int uses = 0;
  for (const take::Event& event : played.take.events) {
    if (event.kind != take::EventKind::control || event.data1 != 64) continue;
    ++uses;
    EXPECT_GE(event.at, played.truth.passes[1].first_onset);
    EXPECT_LE(event.at, played.truth.passes[2].first_onset);
  }
  EXPECT_GT(uses, 20);
}

}  // namespace
}  // namespace loftbeat::simulate
