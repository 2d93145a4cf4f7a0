#include <gtest/gtest.h>

#include "plan/read.h"

namespace loftbeat::plan {
namespace {

TEST(Words, joins_in_both_directions) {
  EXPECT_EQ(*parse_join("3+1"), (Join{JoinKind::hold_and_lift, 3, 1, 0}));
  EXPECT_EQ(*parse_join("2.5+0"), (Join{JoinKind::hold_and_lift, 2.5, 0, 0}));
  EXPECT_EQ(*parse_join("bar"), (Join{JoinKind::by_the_bar, 0, 0, 0}));
  EXPECT_EQ(*parse_join("bar+2"), (Join{JoinKind::by_the_bar, 0, 0, 2}));
  for (const char* text : {"3+1", "2.5+0.125", "bar", "bar+16", "64+64", "0+0"}) {
    EXPECT_EQ(to_string(*parse_join(text)), text);
  }
}

TEST(Words, wrong_joins_say_what_was_expected) {
  for (const char* text :
       {"", "3", "3+", "+1", "-1+2", "3+-1", "3+1+1", "65+0", "nan+1", "inf+0", "1e999+0", "3 + 1",
        "bars", "bar+", "bar+-1", "bar+17", "bar+1.5", "Bar"}) {
    const auto join = parse_join(text);
    ASSERT_FALSE(join) << text;
    EXPECT_EQ(join.error().kind, ErrorKind::wrong_use);
    EXPECT_NE(join.error().message.find("\"3+1\""), std::string::npos);
  }
}

TEST(Words, beat_units_in_both_directions) {
  for (const char* text : {"eighth", "quarter", "dotted-quarter", "half", "dotted-half"}) {
    EXPECT_EQ(to_string(*parse_beat_unit(text)), text);
  }
  EXPECT_EQ(parse_beat_unit("dottedquarter").error().hint, "Did you mean \"dotted-quarter\"?");
  EXPECT_FALSE(parse_beat_unit(""));
}

TEST(Words, beat_units_have_their_lengths) {
  EXPECT_EQ(ticks(BeatUnit::eighth), 5040);
  EXPECT_EQ(ticks(BeatUnit::quarter), 10080);
  EXPECT_EQ(ticks(BeatUnit::dotted_quarter), 15120);
  EXPECT_EQ(ticks(BeatUnit::half), 20160);
  EXPECT_EQ(ticks(BeatUnit::dotted_half), 30240);
}

TEST(Words, play_overs) {
  EXPECT_EQ(parse_play_over("auto")->kind, PlayOverKind::automatic);
  EXPECT_EQ(parse_play_over("none")->kind, PlayOverKind::none);
  EXPECT_EQ(parse_play_over("all")->kind, PlayOverKind::whole);
  EXPECT_EQ(parse_play_over("whole")->kind, PlayOverKind::whole);
  EXPECT_EQ(parse_play_over("first-and-last")->kind, PlayOverKind::first_and_last);
  EXPECT_EQ(*parse_play_over("1,4"), (PlayOver{PlayOverKind::phrases, {1, 4}}));
  EXPECT_EQ(*parse_play_over("3"), (PlayOver{PlayOverKind::phrases, {3}}));
  for (const char* text : {"", "0", "1,", ",1", "1,,2", "one", "1001", "-1", "99999999999"}) {
    EXPECT_FALSE(parse_play_over(text)) << text;
  }
}

TEST(Words, textures) {
  EXPECT_EQ(to_string(Texture::as_written), "as-written");
  EXPECT_EQ(to_string(Texture::tune_up_octave), "tune-up-octave");
  EXPECT_EQ(to_string(Texture::no_pedal), "no-pedal");
  EXPECT_EQ(to_string(Texture::fuller), "fuller");
  EXPECT_EQ(to_string(Texture::unison), "unison");
  EXPECT_EQ(to_string(Texture::free_harmony), "free-harmony");
}

}  // namespace
}  // namespace loftbeat::plan
