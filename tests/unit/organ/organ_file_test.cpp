#include <gtest/gtest.h>

#include "village_organ.h"

namespace loftbeat::organ {
namespace {

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";

TEST(OrganFile, SaysWhatStandsInIt) {
  const Organ organ = village_organ();
  EXPECT_EQ(organ.name, "St Example");
  EXPECT_EQ(organ.power_db, -1);
  ASSERT_EQ(organ.divisions.size(), 3U);
  EXPECT_EQ(organ.divisions[0].lowest_key, 36);
  EXPECT_EQ(organ.divisions[0].highest_key, 96);
  EXPECT_FALSE(organ.divisions[0].box.has_value());
  EXPECT_EQ(organ.divisions[1].highest_key, 93);
  ASSERT_TRUE(organ.divisions[1].box.has_value());
  EXPECT_EQ(organ.divisions[1].box->closed_db, -10);
  EXPECT_EQ(organ.divisions[1].box->control, 11);
  EXPECT_EQ(organ.divisions[2].kind, Division::Kind::pedal);
  EXPECT_EQ(organ.divisions[2].highest_key, 67);
  const Stop& diapason = organ.stops[0];
  EXPECT_EQ(full_name(organ, diapason), "Great Open Diapason 8");
  EXPECT_EQ(diapason.rank, "principal-8");
  EXPECT_EQ(diapason.location, (Location{Side::right, 1, 2}));
  EXPECT_EQ(organ.stops[1].feet, 4);
  EXPECT_EQ(organ.stops[1].rank, "principal-4");
  EXPECT_EQ(organ.stops[1].power_db, -3);
  EXPECT_NEAR(organ.stops[2].feet, 8.0 / 3, 1e-12);
  EXPECT_EQ(organ.stops[2].rank, "principal-2-2-3");
  EXPECT_EQ(organ.stops[3].rank, "mixture-iii");
  EXPECT_EQ(organ.stops[3].feet, 0);
  EXPECT_EQ(organ.stops[5].rank, "oboe-8");
  EXPECT_EQ(organ.couplers[2].semitones, 12);
  EXPECT_EQ(organ.tremulants[0].division, 1U);
  EXPECT_EQ(organ.tremulants[0].rate_hz, 5);
  EXPECT_EQ(organ.pistons[0].stops, (std::vector<std::size_t>{0, 1}));
  EXPECT_EQ(organ.pistons[1].division, std::nullopt);
  EXPECT_EQ(organ.pistons[1].by, Piston::By::toe);
  EXPECT_EQ(organ.pistons[1].couplers, (std::vector<std::size_t>{0}));
}

TEST(OrganFile, MappingsOfEveryKind) {
  const Organ organ = village_organ();
  using Kind = MidiMapping::Kind;
  EXPECT_EQ(organ.stops[0].midi.kind, Kind::control);
  EXPECT_EQ(organ.stops[1].midi.kind, Kind::nrpn);
  EXPECT_EQ(organ.stops[1].midi.number, 1025);
  EXPECT_EQ(organ.stops[1].midi.channel, 16);
  EXPECT_EQ(organ.stops[2].midi.kind, Kind::note);
  EXPECT_EQ(organ.stops[3].midi.on_bytes, "\xF0\x7D\x01\x01\xF7");
  EXPECT_EQ(organ.stops[3].midi.off_bytes, std::string("\xF0\x7D\x01\x00\xF7", 5));
  EXPECT_EQ(organ.stops[4].midi.off_number, 5);
  EXPECT_EQ(organ.stops[5].midi.kind, Kind::none);
}

TEST(OrganFile, KeysFindTheirDivision) {
  const Organ organ = village_organ();
  EXPECT_EQ(division_of(organ, 1, 60), 0U);
  EXPECT_EQ(division_of(organ, 2, 94), std::nullopt);  // above its compass
  EXPECT_EQ(division_of(organ, 5, 47), 2U);            // below the split
  EXPECT_EQ(division_of(organ, 5, 48), 0U);
  EXPECT_EQ(division_of(organ, 4, 60), std::nullopt);
}

TEST(OrganFile, TheParishHasOneTwoAndThreeManuals) {
  struct Expected {
    const char* file;
    std::size_t stops;
    std::size_t divisions;
  };
  for (const Expected& expected : {Expected{"crotchet-cross", 6, 2}, Expected{"quaverham", 18, 3},
                                   Expected{"minimsby", 40, 4}}) {
    const auto organ = read_organ(kParish + expected.file + ".organ.toml");
    ASSERT_TRUE(organ.ok()) << to_string(organ.error());
    EXPECT_EQ(organ->stops.size(), expected.stops);
    EXPECT_EQ(organ->divisions.size(), expected.divisions);
    for (const Stop& stop : organ->stops) {
      EXPECT_NE(stop.location.side, Side::unknown) << full_name(*organ, stop);
      EXPECT_NE(stop.midi.kind, MidiMapping::Kind::none) << full_name(*organ, stop);
    }
    for (std::size_t a = 0; a < organ->stops.size(); ++a) {
      for (std::size_t b = 0; b < a; ++b) {
        const Stop& one = organ->stops[a];
        const Stop& other = organ->stops[b];
        EXPECT_FALSE(one.location == other.location)
            << full_name(*organ, one) << " stands where " << full_name(*organ, other) << " does";
        EXPECT_FALSE(one.midi == other.midi) << full_name(*organ, one);
      }
    }
  }
}

}  // namespace
}  // namespace loftbeat::organ
