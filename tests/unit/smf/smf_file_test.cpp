#include "music/smf_file.h"

#include <gtest/gtest.h>

#include "smf_hex.h"

namespace loftbeat::music {
namespace {

// Expectations follow the Standard MIDI Files 1.0 specification (RP-001), whose rules are named
// in each test; what it leaves open is marked as our choice.

SmfFile parsed(const std::string& bytes) {
  auto file = parse_smf(bytes, "test.mid");
  EXPECT_TRUE(file.ok()) << (file.ok() ? "" : to_string(file.error()));
  return file.ok() ? *file : SmfFile{};
}

// "ticks:status data" of all events but the end of track.
std::string events(const SmfTrack& track) {
  std::string out;
  for (const SmfEvent& event : track.events) {
    if (event.status == 0xFF && event.meta == 0x2F) continue;
    out += std::to_string(event.ticks) + ":";
    char byte[4];
    std::snprintf(byte, sizeof byte, "%02X", event.status);
    out += byte;
    for (const char c : event.data) {
      std::snprintf(byte, sizeof byte, "%02X", static_cast<unsigned char>(c));
      out += byte;
    }
    out += " ";
  }
  return out;
}

TEST(SmfFile, ReadsFormatTracksAndDivision) {
  const SmfFile file = parsed(header(1, 2, 96) + chunk("MTrk", hex("00 FF 2F 00")) +
                              chunk("MTrk", hex("00 90 3C 40 60 80 3C 40 00 FF 2F 00")));
  EXPECT_EQ(file.format, 1);
  EXPECT_FALSE(file.smpte);
  EXPECT_EQ(file.ticks_per_quarter, 96);
  ASSERT_EQ(file.tracks.size(), 2u);
  EXPECT_EQ(events(file.tracks[1]), "0:903C40 96:803C40 ");
  EXPECT_FALSE(file.tracks[1].truncated);
  EXPECT_TRUE(file.notices.empty());
}

TEST(SmfFile, CarriesRunningStatusOn) {
  const SmfFile file = parsed(one_track("00 90 3C 40 10 3E 41 10 3C 00 00 FF 2F 00"));
  EXPECT_EQ(events(file.tracks[0]), "0:903C40 16:903E41 32:903C00 ");
}

TEST(SmfFile, KnowsTheLengthOfEveryChannelMessage) {
  const SmfFile file = parsed(
      one_track("00 81 01 02 00 92 03 04 00 A3 05 06 00 B4 07 08 00 C5 09 00 D6 0A 00 E7 0B 0C "
                "00 FF 2F 00"));
  EXPECT_EQ(events(file.tracks[0]), "0:810102 0:920304 0:A30506 0:B40708 0:C509 0:D60A 0:E70B0C ");
}

// Our choice: RP-001 ends running status there, but files rely on its going on, and a data byte
// there can mean nothing else.
TEST(SmfFile, LetsRunningStatusSurviveMetaAndExclusiveEvents) {
  const SmfFile file =
      parsed(one_track("00 90 3C 40 00 FF 01 01 41 10 3E 41 00 F0 02 7D F7 10 40 42 00 FF 2F 00"));
  EXPECT_EQ(events(file.tracks[0]), "0:903C40 0:FF41 16:903E41 16:F07DF7 32:904042 ");
}

TEST(SmfFile, ReadsExclusivesAndTheirContinuation) {
  const SmfFile file = parsed(one_track("00 F0 03 43 12 00 64 F7 02 43 F7 00 FF 2F 00"));
  EXPECT_EQ(events(file.tracks[0]), "0:F0431200 100:F743F7 ");
}

TEST(SmfFile, SkipsWhatALongerHeaderAdds) {
  const SmfFile file = parsed("MThd" + hex("00 00 00 09 00 00 00 01 00 60 AA BB CC") +
                              chunk("MTrk", hex("00 90 3C 40 00 FF 2F 00")));
  EXPECT_EQ(file.ticks_per_quarter, 96);
  EXPECT_EQ(events(file.tracks[0]), "0:903C40 ");
}

TEST(SmfFile, PassesOverUnknownChunks) {
  const SmfFile file = parsed(header(0, 1, 96) + chunk("XFIH", "something") +
                              chunk("MTrk", hex("00 90 3C 40 00 FF 2F 00")) + chunk("XFKM", ""));
  ASSERT_EQ(file.tracks.size(), 1u);
  ASSERT_EQ(file.notices.size(), 1u);
  EXPECT_EQ(file.notices[0].message, "2 unknown chunks were passed over.");
}

// RMID is a RIFF form with the file in its chunk "data" (RIFF is little-endian and pads to even).
TEST(SmfFile, OpensARiffWrapper) {
  const std::string inner = one_track("00 90 3C 40 00 FF 2F 00");
  std::string riff = "RIFF" + hex("00 00 00 00") + "RMID" + "DISP" + hex("03 00 00 00") + "abc" +
                     hex("00") + "data";
  riff.push_back(static_cast<char>(inner.size()));
  riff += hex("00 00 00") + inner + "LIST" + hex("00 00 00 00");
  const SmfFile file = parsed(riff);
  ASSERT_EQ(file.tracks.size(), 1u);
  EXPECT_EQ(events(file.tracks[0]), "0:903C40 ");
  EXPECT_TRUE(file.notices.empty());
}

struct Frames {
  std::uint32_t division;
  double ticks_per_second;
};

// RP-001: the high byte is minus the frames a second, 29 standing for 30 drop frame
// (30000/1001), the low byte the ticks a frame. E2 50 is 30 frames of 80, its own example.
TEST(SmfFile, ReadsDivisionsInFrames) {
  for (const Frames& row : {Frames{0xE250, 2400.0}, Frames{0xE728, 1000.0}, Frames{0xE804, 96.0},
                            Frames{0xE364, 100.0 * 30'000.0 / 1001.0}}) {
    const SmfFile file = parsed(one_track("00 90 3C 40 00 FF 2F 00", row.division));
    EXPECT_TRUE(file.smpte);
    EXPECT_DOUBLE_EQ(file.ticks_per_second, row.ticks_per_second);
  }
}

TEST(SmfFile, WritesByteForByte) {
  SmfFile file;
  file.format = 0;
  file.ticks_per_quarter = 96;
  file.tracks.push_back({{{0, 0xFF, 0x51, hex("07 A1 20")},
                          {0, 0x90, 0, hex("3C 40")},
                          {192, 0x80, 0, hex("3C 40")},
                          {192, 0xF0, 0, hex("7D F7")},
                          {200, 0xC0, 0, hex("05")}},
                         false});
  EXPECT_EQ(format_smf(file),
            one_track("00 FF 51 03 07 A1 20 00 90 3C 40 81 40 80 3C 40 00 F0 02 7D F7 08 C0 05 "
                      "00 FF 2F 00",
                      96));
}

TEST(SmfFile, BridgesGapsThatFourBytesCannotSay) {
  SmfFile file;
  file.tracks.push_back({{{0, 0x90, 0, hex("3C 40")}, {0x25000000, 0x80, 0, hex("3C 40")}}, false});
  const SmfFile again = parsed(format_smf(file));
  EXPECT_EQ(events(again.tracks[0]), "0:903C40 268435455:FF 536870910:FF 620756992:803C40 ");
}

TEST(SmfFile, WritesDivisionsInFramesBack) {
  for (const std::uint32_t division : {0xE250u, 0xE728u, 0xE804u, 0xE364u}) {
    const std::string bytes = one_track("00 90 3C 40 00 FF 2F 00", division);
    EXPECT_DOUBLE_EQ(parsed(format_smf(parsed(bytes))).ticks_per_second,
                     parsed(bytes).ticks_per_second);
  }
}

}  // namespace
}  // namespace loftbeat::music
