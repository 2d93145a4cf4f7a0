#include "app/terminal_choice.h"

#include <gtest/gtest.h>

namespace loftbeat::app {
namespace {

using Colour = report::TerminalStyle::Colour;

TEST(ChooseStyle, WidthFromColumnsThenWindowThenEighty) {
  EXPECT_EQ(choose_style({true, 100, "60", {}, {}}).width, 60);
  EXPECT_EQ(choose_style({true, 100, {}, {}, {}}).width, 100);
  EXPECT_EQ(choose_style({false, 100, {}, {}, {}}).width, 80);
  EXPECT_EQ(choose_style({false, 0, "132", {}, {}}).width, 132);
  for (const char* nonsense : {"", "x", "0", "-5", "19", "99999999999", "60x"}) {
    EXPECT_EQ(choose_style({true, 0, nonsense, {}, {}}).width, 80) << nonsense;
  }
}

// no-color.org: set, and not to the empty string, means no colour.
TEST(ChooseStyle, ColourOnlyOnATerminalThatWantsIt) {
  EXPECT_EQ(choose_style({true, 80, {}, {}, "xterm"}).colour, Colour::ansi);
  EXPECT_EQ(choose_style({true, 80, {}, "", "xterm"}).colour, Colour::ansi);
  EXPECT_EQ(choose_style({true, 80, {}, "1", "xterm"}).colour, Colour::none);
  EXPECT_EQ(choose_style({true, 80, {}, "0", "xterm"}).colour, Colour::none);
  EXPECT_EQ(choose_style({true, 80, {}, {}, "dumb"}).colour, Colour::none);
  EXPECT_EQ(choose_style({false, 80, {}, {}, "xterm"}).colour, Colour::none);
}

}  // namespace
}  // namespace loftbeat::app
