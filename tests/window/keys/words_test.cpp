// What the place says, from what is known.

#include <gtest/gtest.h>

#include "window/keys/input_words.h"
#include "window/keys/now_view.h"

namespace loftbeat::window {
namespace {

using State = PracticeSight::State;

TEST(InputWords, SayWhatToDoIfNothingComes) {
  PracticeSight sight;
  EXPECT_TRUE(input_words(sight, {}).contains("not listened to"));
  sight.state = State::waiting;
  sight.inputs = "Great";
  EXPECT_TRUE(input_words(sight, 1.0).contains("Press a key"));
  EXPECT_TRUE(input_words(sight, 30.0).contains("switched on"));
  sight.messages = 3;
  EXPECT_TRUE(input_words(sight, 30.0).contains("Great is heard"));
}

TEST(HeadWords, FollowThePractice) {
  PracticeSight sight;
  sight.state = State::counting;
  sight.counting = "1 2 3";
  EXPECT_EQ(head_words(sight), "1 2 3");
  sight.state = State::playing;
  sight.place.pass = "verse 2";
  EXPECT_EQ(head_words(sight), "Not the tune");
  sight.place.in_tune = true;
  EXPECT_EQ(head_words(sight), "Verse 2");
}

TEST(JoinAheadWords, TellTheStepThenWhereToLookThenTheStepWithItsBeats) {
  PracticeSight sight;
  sight.place.step = "LEFT: draw Great Fifteenth 2";
  EXPECT_EQ(join_ahead_words(sight), "At the join: LEFT: draw Great Fifteenth 2");
  sight.place.look = "look left, row 2, knob 3";
  EXPECT_EQ(join_ahead_words(sight), "Look left, row 2, knob 3");
  sight.place.at_join = true;
  sight.place.hold = "hold 4, lift 2";
  EXPECT_EQ(join_ahead_words(sight), "LEFT: draw Great Fifteenth 2\nHold 4, lift 2");
}

}  // namespace
}  // namespace loftbeat::window
