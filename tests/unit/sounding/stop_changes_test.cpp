#include "voice/stop_changes.h"

#include <gtest/gtest.h>

#include "small_organ.h"
#include "voice/perform_chord.h"

namespace loftbeat::voice {
namespace {

using rt::Act;

TEST(StopChanges, AreMadeAtTheirTimesOnTopOfWhatIsDrawn) {
  const organ::Organ organ = small_organ();
  const auto changes = parse_stop_changes(R"(
[[change]]
at = 2
piston = "Great 1"
[[change]]
at = 1
draw = ["swell stopped flute 8", "Swell to Great", "Swell Tremulant"]
swell = 0.25
[[change]]
at = 99
draw = ["Pedal Bourdon 16"]
)",
                                          "test.changes.toml", organ);
  ASSERT_TRUE(changes.ok()) << to_string(changes.error());
  const auto chord = perform_chord(organ, drawn(organ, {"Great Open Diapason 8"}), "C4", 3);
  ASSERT_TRUE(chord.ok());
  const Performance changed = with_changes(*chord, organ, *changes);
  std::vector<std::pair<std::int64_t, Act>> made;
  for (const rt::Event& event : changed.events) made.emplace_back(event.frame, event.act);
  // The piston pushes in the Great's Diapason and coupler, and leaves the Swell alone.
  EXPECT_EQ(made, (std::vector<std::pair<std::int64_t, Act>>{{0, Act::draw_stop},
                                                             {0, Act::key_down},
                                                             {48'000, Act::draw_stop},
                                                             {48'000, Act::draw_coupler},
                                                             {48'000, Act::tremulant_on},
                                                             {48'000, Act::swell},
                                                             {96'000, Act::push_in_stop},
                                                             {96'000, Act::push_in_coupler},
                                                             {96'000, Act::draw_stop},
                                                             {144'000, Act::key_up}}));
}

TEST(StopChanges, EveryPassBeginsWithWhatItsPlanDraws) {
  const organ::Organ organ = small_organ();
  const auto changes = parse_stop_changes(
      "[[change]]\nat = 1\npush-in = [\"Great Open Diapason 8\"]\n"
      "draw = [\"Great Principal 4\"]\n",
      "test.changes.toml", organ);
  ASSERT_TRUE(changes.ok()) << to_string(changes.error());
  auto chord = perform_chord(organ, drawn(organ, {"Great Open Diapason 8"}), "C4", 3);
  ASSERT_TRUE(chord.ok());
  chord->marks = {{0, "1", "1"}, {24'000, "1", "2"}, {96'000, "2", "1"}, {120'000, "2", "2"}};
  const Performance changed = with_changes(*chord, organ, *changes);
  std::vector<std::pair<std::int64_t, Act>> moves;
  for (const rt::Event& event : changed.events) {
    if (event.frame > 0 && event.act != Act::key_up) moves.emplace_back(event.frame, event.act);
  }
  EXPECT_EQ(moves, (std::vector<std::pair<std::int64_t, Act>>{{48'000, Act::push_in_stop},
                                                              {48'000, Act::draw_stop},
                                                              {96'000, Act::push_in_stop},
                                                              {96'000, Act::draw_stop}}));
}

TEST(StopChanges, ErrorsNameLineAndNearestName) {
  const organ::Organ organ = small_organ();
  const auto error = [&](const std::string& text) {
    const auto read = parse_stop_changes(text, "x.changes.toml", organ);
    return read.ok() ? std::string("no error") : to_string(read.error());
  };
  EXPECT_NE(error("[[change]]\nat = 1\ndraw = [\"Great Principle 4\"]\n").find("x.changes.toml:3"),
            std::string::npos);
  EXPECT_NE(error("[[change]]\nat = 1\ndraw = [\"Great Principle 4\"]\n").find("Great Principal 4"),
            std::string::npos);
  EXPECT_NE(error("[[change]]\nat = -1\n").find(":2"), std::string::npos);
  EXPECT_NE(error("[[change]]\nat = 1\ndarw = []\n").find("unknown key"), std::string::npos);
  EXPECT_NE(error("[[change]]\nat = 1\n").find("push-in, swell or piston"), std::string::npos);
  EXPECT_NE(error("[[change]]\nat = 1\npiston = \"Great 9\"\n").find("Did you mean \"Great 1\"?"),
            std::string::npos);
  EXPECT_NE(error("[[change]]\nat = 1\nswell = { Great = 0 }\n").find("swell box"),
            std::string::npos);
  EXPECT_NE(error("").find("change"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::voice
