// The crescendo pedal: read, moved, sent by MIDI, folded into what sounds.

#include <gtest/gtest.h>

#include "organ/console.h"
#include "village_organ.h"

namespace loftbeat::organ {
namespace {

using Indexes = std::vector<std::size_t>;
using What = ConsoleMove::What;

Organ with_pedal() {
  Organ organ = village_organ();
  Crescendo pedal;
  pedal.stages = {{{0}, {}}, {{1}, {0}}, {{2, 3}, {}}};
  pedal.channel = 1;
  pedal.control = 4;
  organ.crescendo = pedal;
  return organ;
}

TEST(Crescendo, AddsItsStagesToWhatIsDrawnByHand) {
  const Organ organ = with_pedal();
  Registration drawn = empty_registration(organ);
  drawn.stops = {3, 5};
  Indexes last = drawn.stops;
  for (int position = 0; position <= 3; ++position) {
    drawn.crescendo = position;
    const Registration sounds = with_crescendo(organ, drawn);
    EXPECT_EQ(sounds.crescendo, 0);
    // Nothing that sounded a position lower is missing.
    EXPECT_TRUE(std::includes(sounds.stops.begin(), sounds.stops.end(), last.begin(), last.end()));
    EXPECT_TRUE(std::is_sorted(sounds.stops.begin(), sounds.stops.end()));
    last = sounds.stops;
  }
  EXPECT_EQ(last, (Indexes{0, 1, 2, 3, 5}));
  drawn.crescendo = 2;
  EXPECT_EQ(with_crescendo(organ, drawn).couplers, (Indexes{0}));
  EXPECT_EQ(with_crescendo(village_organ(), empty_registration(organ)), empty_registration(organ));
}

// 127 values over four positions: 0 to 21 is nothing, 22 to 63 the first (each a third of 127).
TEST(Crescendo, ThePedalsValuesBecomePositionsAndOnlyChangesAreTold) {
  const Organ organ = with_pedal();
  ConsoleReader reader(organ);
  take::Event event;
  event.kind = take::EventKind::control;
  event.channel = 0;
  event.data1 = 4;
  std::vector<double> told;
  for (int value = 0; value <= 127; ++value) {
    event.data2 = static_cast<std::uint8_t>(value);
    for (const ConsoleMove& move : reader.feed(event)) {
      EXPECT_EQ(move.what, What::crescendo);
      told.push_back(move.value);
    }
  }
  EXPECT_EQ(told, (std::vector<double>{1, 2, 3}));
  event.data1 = 5;
  EXPECT_TRUE(reader.feed(event).empty());
}

TEST(Crescendo, MovesLeadFromOneRegistrationToAnother) {
  const Organ organ = with_pedal();
  Registration before = empty_registration(organ);
  Registration after = before;
  after.crescendo = 2;
  const auto moves = moves_between(before, after);
  ASSERT_EQ(moves.size(), 1u);
  EXPECT_EQ(moved(organ, before, moves.front()), after);
}

constexpr const char* kFile = R"([[division]]
name = "Great"
[[stop]]
name = "Flute"
division = "Great"
pitch = "8"
family = "open-flute"
[crescendo]
)";

TEST(Crescendo, IsReadFromTheFileAndWrongOnesAreToldWithTheirLine) {
  const auto good = parse_organ(
      std::string(kFile) + "stages = [[\"Great Flute 8\"]]\ncontrol = 4\nchannel = 2\n", "x");
  ASSERT_TRUE(good.ok()) << to_string(good.error());
  ASSERT_TRUE(good->crescendo.has_value());
  EXPECT_EQ(good->crescendo->stages, (std::vector<Crescendo::Stage>{{{0}, {}}}));
  EXPECT_EQ(good->crescendo->channel, 2);
  for (const char* wrong : {"stages = []", "stages = [[]]", "stages = [[\"Great Flut 8\"]]",
                            "stages = [3]", "stages = [[\"Great Flute 8\"]]\ncontrol = 4",
                            "stages = \"Great Flute 8\"", "staegs = []"}) {
    const auto organ = parse_organ(std::string(kFile) + wrong + "\n", "x.organ.toml");
    ASSERT_FALSE(organ.ok()) << wrong;
    EXPECT_NE(to_string(organ.error()).find("x.organ.toml:"), std::string::npos) << wrong;
  }
  const auto typo = parse_organ(std::string(kFile) + "stages = [[\"Great Flut 8\"]]\n", "x");
  EXPECT_NE(to_string(typo.error()).find("Great Flute 8"), std::string::npos)
      << to_string(typo.error());
}

TEST(Crescendo, APlanNamesAPositionThatTheOrganHas) {
  plan::RegistrationPlan names;
  names.lines.stops = 5;
  names.lines.crescendo = 9;
  names.crescendo = 3;
  EXPECT_EQ(resolve(with_pedal(), names, "x.plan.toml")->crescendo, 3);
  names.crescendo = 4;
  const std::string beyond = to_string(resolve(with_pedal(), names, "x.plan.toml").error());
  EXPECT_NE(beyond.find("x.plan.toml:9"), std::string::npos) << beyond;
  const std::string none = to_string(resolve(village_organ(), names, "x.plan.toml").error());
  EXPECT_NE(none.find("no crescendo pedal"), std::string::npos) << none;
}

}  // namespace
}  // namespace loftbeat::organ
