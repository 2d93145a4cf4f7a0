// Stop moves out of a take: mapped messages and marks.

#include "advise/stop_events.h"

#include <gtest/gtest.h>

#include "moving_organ.h"

namespace loftbeat::advise {
namespace {

using What = organ::ConsoleMove::What;

StopEvents events_of(const std::vector<take::Event>& events,
                     const organ::Organ& organ = moving_organ()) {
  take::Take take;
  take.events = events;
  return stop_events(take, organ, organ::empty_registration(organ));
}

TEST(StopEvents, MessagesOfTheMappingMoveStops) {
  const StopEvents read = events_of({control_at(1, 20, 127), control_at(2, 24, 127)});
  ASSERT_EQ(read.events.size(), 2u);
  EXPECT_EQ(read.events[0].at, instant_from_seconds(1));
  EXPECT_EQ(read.events[0].moves, (std::vector<organ::ConsoleMove>{{What::stop, 0, 1}}));
  EXPECT_TRUE(read.events[0].before.stops.empty());
  EXPECT_EQ(read.events[0].after.stops, (std::vector<std::size_t>{0}));
  EXPECT_EQ(read.events[1].after.couplers, (std::vector<std::size_t>{0}));
}

TEST(StopEvents, WhatChangesNothingIsNoMoveButAPistonIs) {
  const StopEvents read = events_of({control_at(1, 20, 127), control_at(2, 20, 127),
                                     control_at(3, 30, 127), control_at(4, 30, 127)});
  ASSERT_EQ(read.events.size(), 3u);
  EXPECT_EQ(read.events[2].before, read.events[2].after);
  EXPECT_EQ(read.events[2].moves.front().what, What::piston);
}

TEST(StopEvents, AMarkMayNameWhatMoves) {
  const StopEvents read =
      events_of({mark_at(1, " Stops: + great principal 8, Swell to Great"),
                 mark_at(2, "stops - Great Principal 8"), mark_at(3, "STOPS: Swell to Great")});
  ASSERT_EQ(read.events.size(), 3u);
  EXPECT_EQ(read.events[0].told, StopEvent::Told::controls);
  EXPECT_EQ(read.events[0].after.stops, (std::vector<std::size_t>{0}));
  EXPECT_EQ(read.events[0].after.couplers, (std::vector<std::size_t>{0}));
  EXPECT_TRUE(read.events[1].after.stops.empty());
  EXPECT_TRUE(read.events[2].after.couplers.empty());
}

TEST(StopEvents, AMarkThatNamesNothingTellsTheTime) {
  for (const char* text : {"stops", "Stops:", "  STOPS  ", "stops: Great Ophicleide 16"}) {
    const StopEvents read = events_of({mark_at(1, text)});
    ASSERT_EQ(read.events.size(), 1u) << text;
    EXPECT_EQ(read.events[0].told, StopEvent::Told::time_only);
    EXPECT_TRUE(read.events[0].moves.empty());
    EXPECT_EQ(read.events[0].before, read.events[0].after);
  }
  EXPECT_EQ(events_of({mark_at(1, "stops: Great Ophicleide 16")}).notices.size(), 1u);
}

TEST(StopEvents, OtherMarksAreNone) {
  for (const char* text : {"", "verse 2", "stop", "stopsign", "stops2", "the stops", "st"})
    EXPECT_TRUE(events_of({mark_at(1, text)}).events.empty()) << text;
}

// Hostile marks: nothing but a notice or a time.
TEST(StopEvents, AnyTextIsTaken) {
  for (const std::string& text :
       {std::string("stops:,,,,"), std::string("stops: +"), std::string("stops: - ,"),
        "stops:" + std::string(100000, ','), "stops:" + std::string("\0\xFF", 2)}) {
    EXPECT_EQ(events_of({mark_at(1, text)}).events.size(), 1u);
  }
}

TEST(StopEvents, WithoutAnyTheReasonIsSaid) {
  EXPECT_NE(events_of({}).why_none.find("no message or mark"), std::string::npos);
  organ::Organ silent = moving_organ();
  for (auto& stop : silent.stops) stop.midi = {};
  for (auto& coupler : silent.couplers) coupler.midi = {};
  for (auto& piston : silent.pistons) piston.midi = {};
  EXPECT_NE(events_of({control_at(1, 20, 127)}, silent).why_none.find("does not say"),
            std::string::npos);
  EXPECT_TRUE(events_of({mark_at(1, "stops")}, silent).why_none.empty());
}

TEST(StopEvents, AreToldInWords) {
  const organ::Organ organ = moving_organ();
  EXPECT_EQ(moves_in_words(organ, {{What::stop, 1, 1}, {What::coupler, 0, 0}, {What::stop, 2, 1}}),
            "draws Great Fifteenth 2, Swell Oboe 8; pushes in Swell to Great");
  EXPECT_EQ(moves_in_words(organ, {{What::piston, 0, 1}}), "presses Great 1");
  EXPECT_EQ(moves_in_words(organ, {}), "");
}

}  // namespace
}  // namespace loftbeat::advise
