#include <gtest/gtest.h>

#include "village_organ.h"

namespace loftbeat::organ {
namespace {

using take::Event;
using take::EventKind;
using What = ConsoleMove::What;
using Moves = std::vector<ConsoleMove>;

Event event(EventKind kind, int channel, int data1, int data2 = 0) {
  Event made;
  made.kind = kind;
  made.channel = static_cast<std::uint8_t>(channel - 1);
  made.data1 = static_cast<std::uint8_t>(data1);
  made.data2 = static_cast<std::uint8_t>(data2);
  return made;
}

Event exclusive(const std::string& bytes) {
  Event made;
  made.kind = EventKind::exclusive;
  made.bytes = bytes;
  return made;
}

TEST(Console, EveryKindOfMessageMovesItsStop) {
  const Organ organ = village_organ();
  ConsoleReader reader(organ);
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 20, 127)), (Moves{{What::stop, 0, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 20, 0)), (Moves{{What::stop, 0, 0}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 20, 64)), Moves{});
  EXPECT_EQ(reader.feed(event(EventKind::control, 2, 20, 127)), Moves{});
  EXPECT_EQ(reader.feed(event(EventKind::note_on, 10, 24, 1)), (Moves{{What::stop, 2, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::note_off, 10, 24)), (Moves{{What::stop, 2, 0}}));
  EXPECT_EQ(reader.feed(event(EventKind::program, 10, 4)), (Moves{{What::stop, 4, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::program, 10, 5)), (Moves{{What::stop, 4, 0}}));
  EXPECT_EQ(reader.feed(exclusive("\xF0\x7D\x01\x01\xF7")), (Moves{{What::stop, 3, 1}}));
  EXPECT_EQ(reader.feed(exclusive(std::string("\xF0\x7D\x01\x00\xF7", 5))),
            (Moves{{What::stop, 3, 0}}));
  EXPECT_EQ(reader.feed(exclusive("\xF0\x7D\x01\x02\xF7")), Moves{});
  // On and off the other way round.
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 30, 0)), (Moves{{What::coupler, 0, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 30, 127)), (Moves{{What::coupler, 0, 0}}));
}

TEST(Console, ParametersComeInPieces) {
  const Organ organ = village_organ();
  ConsoleReader reader(organ);
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 6, 127)), Moves{});  // none chosen yet
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 99, 8)), Moves{});
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 98, 1)), Moves{});  // 8 * 128 + 1
  EXPECT_EQ(reader.feed(event(EventKind::control, 15, 6, 127)), Moves{});
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 6, 127)), (Moves{{What::stop, 1, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 6, 0)), (Moves{{What::stop, 1, 0}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 101, 0)), Moves{});  // a registered one now
  EXPECT_EQ(reader.feed(event(EventKind::control, 16, 6, 127)), Moves{});
}

TEST(Console, PistonsAndSwellPedals) {
  const Organ organ = village_organ();
  ConsoleReader reader(organ);
  EXPECT_EQ(reader.feed(event(EventKind::program, 16, 1)), (Moves{{What::piston, 0, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::note_on, 16, 1, 99)), (Moves{{What::piston, 1, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::note_off, 16, 1)), Moves{});  // let go
  const Moves swell = reader.feed(event(EventKind::control, 2, 11, 127));
  EXPECT_EQ(swell, (Moves{{What::swell, 1, 1}}));
  EXPECT_EQ(reader.feed(event(EventKind::control, 1, 11, 127)), Moves{});  // no box there
}

TEST(Console, MovesChangeTheRegistration) {
  const Organ organ = village_organ();
  Registration drawn = empty_registration(organ);
  drawn = moved(organ, drawn, {What::stop, 3, 1});
  drawn = moved(organ, drawn, {What::stop, 1, 1});
  drawn = moved(organ, drawn, {What::stop, 3, 1});  // drawn already
  EXPECT_EQ(drawn.stops, (std::vector<std::size_t>{1, 3}));
  drawn = moved(organ, drawn, {What::stop, 1, 0});
  drawn = moved(organ, drawn, {What::stop, 1, 0});
  EXPECT_EQ(drawn.stops, (std::vector<std::size_t>{3}));
  drawn = moved(organ, drawn, {What::coupler, 1, 1});
  drawn = moved(organ, drawn, {What::tremulant, 0, 1});
  drawn = moved(organ, drawn, {What::swell, 1, 0.5});
  EXPECT_EQ(drawn.couplers, (std::vector<std::size_t>{1}));
  EXPECT_EQ(drawn.tremulants, (std::vector<std::size_t>{0}));
  EXPECT_EQ(drawn.swell[1], 0.5);
  drawn = moved(organ, drawn, {What::piston, 0, 1});
  EXPECT_EQ(drawn.stops, (std::vector<std::size_t>{0, 1}));
}

TEST(Console, TheMovesBetweenTwoRegistrationsLeadFromOneToTheOther) {
  const Organ organ = village_organ();
  Registration quiet = empty_registration(organ);
  quiet.stops = {0, 2};
  quiet.tremulants = {0};
  Registration full = empty_registration(organ);
  full.stops = {0, 1, 3};
  full.couplers = {1};
  full.swell[1] = 0.25;
  for (const auto& [from, to] : {std::pair(quiet, full), std::pair(full, quiet)}) {
    Registration drawn = from;
    for (const ConsoleMove& move : moves_between(from, to)) drawn = moved(organ, drawn, move);
    EXPECT_EQ(drawn, to);
  }
  EXPECT_EQ(moves_between(quiet, full).size(), 6U);  // 2 and the tremulant in; 1, 3, coupler; swell
  EXPECT_EQ(moves_between(full, full), Moves{});
}

}  // namespace
}  // namespace loftbeat::organ
