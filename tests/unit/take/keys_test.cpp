#include <gtest/gtest.h>

#include "performance.h"

namespace loftbeat::take {
namespace {

// The rules are those of the design: twins within 10 ms, bounds included, become one note that
// ends with the last release; CC64 from 64 on is down (MIDI 1.0).

TEST(Keys, GiveOneNoteForEachStrike) {
  const CleanTake take = Performance().key(0, 100, 60).key(200, 300, 64).key(200, 250, 62).clean();
  ASSERT_EQ(take.notes.size(), 3u);
  EXPECT_EQ(take.notes[0].on, ms(0));
  EXPECT_EQ(take.notes[0].off, ms(100));
  EXPECT_EQ(take.notes[0].sound_off, ms(100));
  EXPECT_EQ(take.notes[1].pitch, 62) << "equal onsets are sorted by pitch";
  EXPECT_TRUE(take.notices.empty());
}

TEST(Keys, OfCoupledManualsAreOneNote) {
  for (const double late : {0.0, 3.0, 10.0}) {
    const CleanTake take =
        Performance().key(0, 100, 60, 0).key(late, 107, 60, 3).key(late, 90, 60, 5).clean();
    ASSERT_EQ(take.notes.size(), 1u) << late;
    EXPECT_EQ(take.notes[0].on, ms(0));
    EXPECT_EQ(take.notes[0].off, ms(107)) << "the last release";
    EXPECT_EQ(take.notes[0].channels, (1u << 0) | (1u << 3) | (1u << 5));
    EXPECT_TRUE(tells(take, "2 keys came on a second channel"));
  }
}

TEST(Keys, OfTwoPortsAreTwinsToo) {
  const CleanTake take = Performance().key(0, 100, 60, 0, 64, 0).key(4, 120, 60, 0, 64, 1).clean();
  ASSERT_EQ(take.notes.size(), 1u);
  EXPECT_EQ(take.notes[0].off, ms(120));
}

TEST(Keys, FurtherApartAreTwoNotes) {
  const CleanTake take = Performance().key(0, 100, 60, 0).key(10.001, 150, 60, 3).clean();
  ASSERT_EQ(take.notes.size(), 2u);
  EXPECT_EQ(take.notes[0].off, ms(100));
  EXPECT_EQ(take.notes[1].off, ms(150));
}

TEST(Keys, HeldFromAnotherManualGoOn) {
  const CleanTake take = Performance().key(0, 500, 60, 0).key(100, 200, 60, 1).clean();
  ASSERT_EQ(take.notes.size(), 2u);
  EXPECT_EQ(take.notes[0].off, ms(500)) << "not ended by the other manual's release";
  EXPECT_EQ(take.notes[1].off, ms(200));
}

TEST(Keys, TwiceOnOneChannelWithinTheWindowAreAnEcho) {
  const CleanTake take = Performance().key(0, 100, 60).key(7, 106, 60).clean();
  ASSERT_EQ(take.notes.size(), 1u);
  EXPECT_EQ(take.notes[0].off, ms(106));
  EXPECT_TRUE(tells(take, "1 keys came twice"));
}

TEST(Keys, StruckAgainWithoutAReleaseEndTheEarlierNote) {
  Performance p;
  p.event(0, EventKind::note_on, 0, 60, 64);
  p.key(500, 700, 60).key(900, 950, 64);
  const CleanTake take = p.clean();
  ASSERT_EQ(take.notes.size(), 3u);
  EXPECT_EQ(take.notes[0].off, ms(500));
  EXPECT_EQ(take.notes[1].off, ms(700)) << "the lost release is not waited for";
}

TEST(Keys, OfTwoTracksThatMeetDoNotCancelEachOther) {
  // One track strikes at the instant at which another releases the same key.
  Performance p;
  p.event(0, EventKind::note_on, 0, 60, 64);
  Take take = p.take();
  for (const auto& [at, kind] :
       {std::pair(500.0, EventKind::note_on), std::pair(500.0, EventKind::note_off),
        std::pair(900.0, EventKind::note_off)}) {
    take.events.push_back(Performance().event(at, kind, 0, 60, 64).take().events[0]);
  }
  const CleanTake cleaned = clean(take);
  ASSERT_EQ(cleaned.notes.size(), 2u);
  EXPECT_EQ(cleaned.notes[0].off, ms(500));
  EXPECT_EQ(cleaned.notes[1].off, ms(900));
}

TEST(Keys, NeverReleasedEndWithTheTake) {
  Performance p;
  p.event(0, EventKind::note_on, 0, 60, 64).key(100, 900, 64);
  const CleanTake take = p.clean();
  EXPECT_EQ(take.notes[0].off, ms(900));
  EXPECT_TRUE(tells(take, "1 keys were never released"));
}

TEST(Keys, AreReleasedByAllNotesOff) {
  for (const int controller : {120, 123, 124, 127}) {
    Performance p;
    p.event(0, EventKind::note_on, 0, 60, 64).control(300, controller, 0).key(400, 900, 64);
    const CleanTake take = p.clean();
    EXPECT_EQ(take.notes[0].off, ms(300)) << controller;
    EXPECT_FALSE(tells(take, "never released"));
  }
}

TEST(Sustain, KeepsSoundAndKeysApart) {
  const CleanTake take = Performance()
                             .control(50, 64, 64)
                             .key(100, 200, 60)
                             .key(300, 800, 64)
                             .control(500, 64, 63)
                             .clean();
  ASSERT_EQ(take.notes.size(), 2u);
  EXPECT_EQ(take.notes[0].off, ms(200));
  EXPECT_EQ(take.notes[0].sound_off, ms(500));
  EXPECT_EQ(take.notes[1].sound_off, ms(800)) << "the key was held beyond the pedal";
  ASSERT_EQ(take.sustain.size(), 1u);
  EXPECT_EQ(take.sustain[0].down, ms(50));
  EXPECT_EQ(take.sustain[0].up, ms(500));
}

TEST(Sustain, BelongsToItsChannel) {
  const CleanTake take =
      Performance().control(0, 64, 127, 1).key(100, 200, 60, 0).control(500, 64, 0, 1).clean();
  EXPECT_EQ(take.notes[0].sound_off, ms(200));
}

TEST(Sustain, EndsASoundWhenItsKeyIsStruckAgain) {
  const CleanTake take = Performance()
                             .control(0, 64, 127)
                             .key(100, 200, 60)
                             .key(400, 450, 60)
                             .control(600, 64, 0)
                             .clean();
  EXPECT_EQ(take.notes[0].off, ms(200));
  EXPECT_EQ(take.notes[0].sound_off, ms(400));
  EXPECT_EQ(take.notes[1].sound_off, ms(600));
}

TEST(Sustain, OfSeveralChannelsIsOneSpan) {
  const CleanTake take = Performance()
                             .control(0, 64, 127, 0)
                             .control(10, 64, 127, 1)
                             .control(300, 64, 0, 0)
                             .control(310, 64, 0, 1)
                             .control(500, 64, 127, 0)
                             .key(600, 700, 60)
                             .clean();
  ASSERT_EQ(take.sustain.size(), 2u);
  EXPECT_EQ(take.sustain[0].up, ms(310));
  EXPECT_EQ(take.sustain[1].down, ms(500));
  EXPECT_EQ(take.sustain[1].up, ms(700)) << "closed at the last event";
}

TEST(Sustain, IsLiftedByAReset) {
  const CleanTake take = Performance()
                             .control(0, 64, 127)
                             .key(100, 200, 60)
                             .control(300, 121, 0)
                             .key(400, 500, 62)
                             .clean();
  EXPECT_EQ(take.notes[0].sound_off, ms(300));
}

TEST(Velocity, VariesOnlyIfOneChannelSendsSeveral) {
  EXPECT_FALSE(Performance().key(0, 9, 60, 0, 64).key(50, 90, 62, 1, 100).clean().velocity_varies);
  EXPECT_TRUE(Performance()
                  .key(0, 9, 60, 0, 64)
                  .key(50, 90, 62, 0, 70)
                  .key(100, 190, 62, 0, 71)
                  .clean()
                  .velocity_varies);
}

TEST(Hygiene, OfAnEmptyTakeIsEmpty) {
  const CleanTake take = clean(Take{});
  EXPECT_TRUE(take.notes.empty());
  EXPECT_TRUE(take.notices.empty());
  EXPECT_EQ(take.stamp_uncertainty.count(), 0);
}

}  // namespace
}  // namespace loftbeat::take
