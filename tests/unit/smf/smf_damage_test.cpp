#include <gtest/gtest.h>

#include <algorithm>

#include "music/smf_file.h"
#include "smf_hex.h"

namespace loftbeat::music {
namespace {

// Damaged files: what can be read is kept, what was lost is told; an error only if nothing is
// left. All bytes here were written by hand.

constexpr const char* kGoodTrack = "00 90 3C 40 60 80 3C 40 00 FF 2F 00";

bool tells(const SmfFile& file, std::string_view words) {
  return std::any_of(file.notices.begin(), file.notices.end(), [&](const Notice& notice) {
    return notice.message.find(words) != std::string::npos && notice.file == "d.mid";
  });
}

std::size_t channel_events(const SmfFile& file) {
  std::size_t count = 0;
  for (const SmfTrack& track : file.tracks) {
    for (const SmfEvent& event : track.events) count += event.status < 0xF0 ? 1u : 0u;
  }
  return count;
}

std::string refused(const std::string& bytes) {
  const auto file = parse_smf(bytes, "d.mid");
  EXPECT_FALSE(file.ok());
  if (file.ok()) return "";
  EXPECT_EQ(file.error().file, "d.mid");
  return file.error().message;
}

TEST(DamagedSmf, KeepsWhatCameBeforeATornTail) {
  const std::string whole =
      one_track("00 90 3C 40 60 80 3C 40 60 90 3E 40 60 80 3E 40 00 FF 2F 00");
  for (std::size_t cut = 1; cut + 22 + 4 < whole.size(); ++cut) {
    const auto file = parse_smf(whole.substr(0, whole.size() - cut), "d.mid");
    ASSERT_TRUE(file.ok()) << cut;
    EXPECT_TRUE(file->tracks[0].truncated);
    EXPECT_TRUE(tells(*file, "Track 1 breaks off"));
    const std::size_t left = whole.size() - cut - 22;
    EXPECT_EQ(channel_events(*file), std::min<std::size_t>(left / 4, 4));
  }
}

TEST(DamagedSmf, SaysHowManyBytesWereLost) {
  const auto file = parse_smf(one_track("00 90 3C 40 60 80 3C"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_TRUE(tells(*file, "3 bytes at its end could not be read"));
}

TEST(DamagedSmf, DoesWithoutAnEndOfTrack) {
  const auto file = parse_smf(one_track("00 90 3C 40 60 80 3C 40"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_TRUE(file->tracks[0].truncated);
  EXPECT_EQ(channel_events(*file), 2u);
  EXPECT_TRUE(tells(*file, "nothing is lost"));
}

TEST(DamagedSmf, ReadsTheTracksThatAreThere) {
  for (const std::uint32_t announced : {0u, 1u, 3u, 65535u}) {
    const auto file = parse_smf(
        header(1, announced, 480) + chunk("MTrk", hex(kGoodTrack)) + chunk("MTrk", hex(kGoodTrack)),
        "d.mid");
    ASSERT_TRUE(file.ok());
    EXPECT_EQ(file->tracks.size(), 2u);
    EXPECT_TRUE(tells(*file, "2 were found and read"));
  }
}

TEST(DamagedSmf, TakesSeveralTracksOfFormat0AsFormat1) {
  const auto file = parse_smf(
      header(0, 2, 480) + chunk("MTrk", hex(kGoodTrack)) + chunk("MTrk", hex(kGoodTrack)), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(file->format, 1);
}

TEST(DamagedSmf, PassesOverRealTimeBytes) {
  const auto file =
      parse_smf(one_track("00 F8 00 90 3C F8 40 00 FE 60 80 3C 40 00 F1 20 00 FF 2F 00"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(channel_events(*file), 2u);
  EXPECT_TRUE(tells(*file, "4 system messages"));
}

TEST(DamagedSmf, PassesOverDataBytesWithoutAStatus) {
  const auto file = parse_smf(one_track("00 3C 40 90 3C 40 60 80 3C 40 00 FF 2F 00"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(channel_events(*file), 2u);
  EXPECT_TRUE(tells(*file, "2 data bytes without a status"));
}

TEST(DamagedSmf, LeavesOutMessagesWithoutTheirData) {
  // After the broken message its third byte is the next delta time.
  const auto file = parse_smf(one_track("00 90 3C 81 00 80 3C 40 00 FF 2F 00"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(channel_events(*file), 1u);
  EXPECT_TRUE(tells(*file, "1 broken MIDI messages"));
}

TEST(DamagedSmf, StopsAtADeltaTimeThatNeverEnds) {
  const auto file =
      parse_smf(one_track("00 90 3C 40 FF FF FF FF 7F 80 3C 40 00 FF 2F 00"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(channel_events(*file), 1u);
  EXPECT_TRUE(tells(*file, "could not be read"));
}

TEST(DamagedSmf, BelievesNoClaimOfLength) {
  const std::string track = hex("00 90 3C 40 60 FF 01 FF FF FF 7F 41");
  const auto file = parse_smf(header(0, 1, 480) + "MTrk" + hex("FF FF FF FF") + track, "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(channel_events(*file), 1u);
  const auto head = parse_smf(
      "MThd" + hex("7F FF FF FF 00 00 00 01 01 E0") + chunk("MTrk", hex(kGoodTrack)), "d.mid");
  ASSERT_TRUE(head.ok());
  EXPECT_EQ(channel_events(*head), 2u);
  EXPECT_TRUE(tells(*head, "false length"));
}

TEST(DamagedSmf, TellsOfTempiThatAreNone) {
  const auto file =
      parse_smf(one_track("00 FF 51 03 00 00 00 00 FF 51 01 07 00 90 3C 40 00 FF 2F 00"), "d.mid");
  ASSERT_TRUE(file.ok());
  EXPECT_TRUE(tells(*file, "2 tempo events"));
  EXPECT_EQ(SmfClock(*file).instant(480), instant_from_seconds(0.5));
}

TEST(DamagedSmf, RefusesWhatHoldsNothing) {
  EXPECT_EQ(refused(""), "is no Standard MIDI File: it does not begin with MThd.");
  EXPECT_EQ(refused("a tune in words"), "is no Standard MIDI File: it does not begin with MThd.");
  EXPECT_EQ(refused("MThd"), "breaks off inside its header.");
  EXPECT_EQ(refused("MThd" + hex("00 00 00 04 00 00 00 01 01 E0")),
            "breaks off inside its header.");
  EXPECT_EQ(refused(header(2, 1, 480) + chunk("MTrk", hex(kGoodTrack))),
            "is a MIDI file of format 2; expected 0 or 1.");
  EXPECT_EQ(refused(header(0, 1, 0) + chunk("MTrk", hex(kGoodTrack))),
            "has a division of 0 ticks a quarter note; expected 1 to 32767.");
  EXPECT_EQ(refused(header(0, 1, 0xE700) + chunk("MTrk", hex(kGoodTrack))),
            "counts 25 frames a second of 0 ticks; expected 24, 25, 29 or 30 frames of 1 to 255 "
            "ticks.");
  EXPECT_EQ(refused(header(1, 1, 480)),
            "holds no MIDI events that can be read; expected a track with notes.");
  EXPECT_EQ(refused("RIFF" + hex("FF FF FF FF") + "RMID" + "data" + hex("FF FF FF FF")),
            "is no Standard MIDI File: it does not begin with MThd.");
}

TEST(DamagedSmf, StopsAtAMillionNotes) {
  std::string body = hex("00 90 3C 40");
  for (std::size_t i = 1; i <= kMaxNotes; ++i) body += hex("00 3C 40");
  const auto file = parse_smf(header(0, 1, 480) + chunk("MTrk", body), "d.mid");
  ASSERT_FALSE(file.ok());
  EXPECT_EQ(file.error().kind, ErrorKind::too_large);
  body.resize(body.size() - 3);
  EXPECT_TRUE(parse_smf(header(0, 1, 480) + chunk("MTrk", body), "d.mid").ok());
}

}  // namespace
}  // namespace loftbeat::music
