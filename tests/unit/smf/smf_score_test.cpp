#include <gtest/gtest.h>

#include <random>

#include "smf_tune.h"

namespace loftbeat::music {
namespace {

constexpr Tick kQ = kTicksPerQuarter;

bool tells(const ReadScore& read, std::string_view words) {
  return std::any_of(read.notices.begin(), read.notices.end(), [&](const Notice& notice) {
    return notice.message.find(words) != std::string::npos;
  });
}

TEST(SmfScore, ReadsNotesExactlyWhateverTheDivision) {
  for (const int division : {24, 96, 120, 384, 480, 1024, 25'000}) {
    Tune tune(division);
    const auto at = [&](double quarters) {
      return static_cast<std::int64_t>(quarters * division + 0.5);
    };
    tune.note(0, at(1), 60).note(at(1), at(0.5), 62).note(at(1.5), at(0.5), 64);
    tune.note(at(2), at(1.0 / 3), 65).note(at(7.0 / 3), at(1.0 / 3), 67);
    tune.note(at(8.0 / 3), at(1.0 / 3), 69).note(at(3), at(1), 60);
    const Score score = tune.score().score;
    ASSERT_EQ(score.notes.size(), 7u) << division;
    const Tick onsets[] = {0, kQ, kQ * 3 / 2, kQ * 2, kQ * 7 / 3, kQ * 8 / 3, kQ * 3};
    const Tick lengths[] = {kQ, kQ / 2, kQ / 2, kQ / 3, kQ / 3, kQ / 3, kQ};
    for (std::size_t i = 0; i < 7; ++i) {
      EXPECT_EQ(score.notes[i].onset, onsets[i]) << division;
      EXPECT_EQ(score.notes[i].length, lengths[i]) << division;
    }
  }
}

TEST(SmfScore, RoundsShortenedNotesUp) {
  for (const int percent : {50, 80, 90, 95, 99}) {
    if (percent == 50) continue;  // a staccato of half the value is written as the shorter note
    Tune tune;
    const std::int64_t lengths[] = {480, 240, 240, 960, 1440, 480, 1920};
    std::int64_t at = 0;
    for (const std::int64_t length : lengths) {
      tune.note(at, length * percent / 100, 60).note(at, length * percent / 100, 48);
      at += length;
    }
    const ReadScore read = tune.score();
    ASSERT_EQ(read.score.notes.size(), 14u);
    for (std::size_t i = 0; i + 1 < 7; ++i) {
      EXPECT_EQ(read.score.notes[2 * i].length, lengths[i] * 21) << percent << " % note " << i;
    }
    EXPECT_TRUE(tells(read, "lengthened"));
  }
}

TEST(SmfScore, LeavesStaccatoAndRestsOfACleanFileAlone) {
  Tune tune;
  for (int i = 0; i < 8; ++i) tune.note(i * 960, i % 2 ? 240 : 480, 60 + i);
  const ReadScore read = tune.score();
  for (std::size_t i = 0; i < 8; ++i) {
    EXPECT_EQ(read.score.notes[i].length, i % 2 ? kQ / 2 : kQ);
  }
  EXPECT_FALSE(tells(read, "lengthened"));
}

TEST(SmfScore, QuantisesWhatWasPlayed) {
  std::mt19937 random(3);
  std::normal_distribution<double> jitter(0, 15);
  Tune tune;
  for (int i = 0; i < 64; ++i) {
    const auto at = static_cast<std::int64_t>(480.0 * i + 40 + jitter(random)) - 40;
    tune.note(std::max<std::int64_t>(at, 0), 430, 60 + i % 12);
  }
  const ReadScore read = tune.score();
  ASSERT_EQ(read.score.notes.size(), 64u);
  for (int i = 0; i < 64; ++i) {
    EXPECT_EQ(read.score.notes[static_cast<std::size_t>(i)].onset, i * kQ);
    EXPECT_EQ(read.score.notes[static_cast<std::size_t>(i)].length, kQ);
  }
  EXPECT_TRUE(tells(read, "moved to the nearest"));
}

TEST(SmfScore, QuantisesTripletsAsTriplets) {
  std::mt19937 random(4);
  std::normal_distribution<double> jitter(0, 6);
  Tune tune;
  for (int i = 0; i < 48; ++i) {
    const auto at = static_cast<std::int64_t>(160.0 * i + jitter(random) + 20) - 20;
    tune.note(std::max<std::int64_t>(at, 0), 140, 60 + i % 12);
  }
  const ReadScore read = tune.score();
  ASSERT_EQ(read.score.notes.size(), 48u);
  for (int i = 0; i < 48; ++i) {
    EXPECT_EQ(read.score.notes[static_cast<std::size_t>(i)].onset, i * kQ / 3);
  }
}

// abc2midi, for one, begins every note one tick late and ends it in time.
TEST(SmfScore, TakesOneTickOffNotesThatAllBeginLate) {
  Tune tune;
  for (int i = 0; i < 8; ++i) tune.note(i * 480 + 1, 479, 60 + i);
  const ReadScore read = tune.score();
  EXPECT_TRUE(read.notices.empty());
  EXPECT_EQ(read.score.notes[3].onset, 3 * kQ);
  EXPECT_EQ(read.score.notes[3].length, kQ);
}

TEST(SmfScore, LaysBarsByTheTimeSignatures) {
  Tune tune;
  tune.metre(0, 3, 2).metre(1440 * 2, 6, 3);
  for (int i = 0; i < 12; ++i) tune.note(i * 480, 480, 60);
  const Score score = tune.score().score;
  ASSERT_EQ(score.bars.size(), 4u);
  EXPECT_EQ(score.bars[1], (Bar{3 * kQ, 3 * kQ, "2", 3, 4, false}));
  EXPECT_EQ(score.bars[2], (Bar{6 * kQ, 3 * kQ, "3", 6, 8, false}));
  EXPECT_EQ(score.length, 12 * kQ);
}

TEST(SmfScore, FindsThePickupInAShortFirstMetre) {
  Tune tune;
  tune.metre(0, 1, 2).metre(480, 4, 2);
  for (int i = 0; i < 8; ++i) tune.note(i * 480, 480, 60);
  const Score score = tune.score().score;
  ASSERT_EQ(score.bars.size(), 3u);
  EXPECT_EQ(score.bars[0], (Bar{0, kQ, "0", 4, 4, true}));
  EXPECT_EQ(score.bars[1], (Bar{kQ, 4 * kQ, "1", 4, 4, false}));
  EXPECT_EQ(score.bars[2], (Bar{5 * kQ, 3 * kQ, "2", 4, 4, false})) << "gives the pickup its beat";
  EXPECT_DOUBLE_EQ(beat_in_bar(score, 0, kQ), 4.0);
}

TEST(SmfScore, CountsABarOfRestsAndAnUpbeatAsBarZero) {
  Tune tune;
  for (int i = 3; i < 11; ++i) tune.note(i * 480, 480, 60);
  const Score score = tune.score().score;
  EXPECT_EQ(score.bars[0], (Bar{0, 4 * kQ, "0", 4, 4, false}));
  EXPECT_EQ(score.bars[1].number, "1");
  EXPECT_EQ(score.notes[0].onset, 3 * kQ) << "time is not moved";
}

TEST(SmfScore, ReadsTitleTempoKeyAndText) {
  Tune tune;
  tune.meta(0, 0x03, "M\xE4rz");                       // Latin-1
  tune.meta(0, 0x51, std::string("\x0B\x71\xB0", 3));  // 750000 us: 80 to the minute
  tune.meta(480, 0x51, std::string("\x0B\x71\xB0", 3));
  tune.meta(960, 0x51, std::string("\x0F\x42\x40", 3));  // 1000000 us: 60
  tune.meta(0, 0x59, std::string("\xFD\x01", 2));        // three flats, minor
  tune.meta(0, 0x05, "One ").meta(480, 0x05, "line\r").meta(960, 0x05, "two ");
  for (int i = 0; i < 8; ++i) tune.note(i * 480, 480, 60);
  const Score score = tune.score().score;
  EXPECT_EQ(score.title, "M\xC3\xA4rz");
  ASSERT_EQ(score.tempi.size(), 2u);
  EXPECT_EQ(score.tempi[0], (TempoMark{0, 80}));
  EXPECT_EQ(score.tempi[1], (TempoMark{2 * kQ, 60}));
  ASSERT_EQ(score.keys.size(), 1u);
  EXPECT_EQ(score.keys[0], (KeyMark{0, -3, true}));
  EXPECT_EQ(score.lyric_verses, 1);
  EXPECT_EQ(score.phrase_source, PhraseSource::lyric_lines);
  ASSERT_EQ(score.phrases.size(), 2u);
  EXPECT_EQ(score.phrases[1].span.begin, 2 * kQ);
}

TEST(SmfScore, LeavesDrumsOut) {
  Tune tune(480, 2);
  for (int i = 0; i < 4; ++i) tune.note(i * 480, 480, 60).note(i * 480, 240, 38, 1, 9);
  const ReadScore read = tune.score();
  EXPECT_EQ(read.score.notes.size(), 4u);
  EXPECT_TRUE(tells(read, "4 notes on channel 10"));
}

TEST(SmfScore, EndsANoteWhereItsKeyIsStruckAgain) {
  Tune tune;
  for (int i = 0; i < 4; ++i) tune.note(i * 480, 720, 60);
  for (const Note& note : tune.score().score.notes) EXPECT_LE(note.length, 720 * 21);
  EXPECT_EQ(tune.score().score.notes[0].length, kQ);
}

TEST(SmfScore, LaysFramesOutAtTheTempo) {
  Tune tune;
  tune.file().smpte = true;
  tune.file().ticks_per_second = 1000;
  for (int i = 0; i < 8; ++i) tune.note(i * 500, 500, 60 + i);
  const ReadScore read = tune.score();
  ASSERT_EQ(read.score.notes.size(), 8u);
  EXPECT_EQ(read.score.notes[5].onset, 5 * kQ);
  EXPECT_TRUE(tells(read, "counts frames"));
}

TEST(SmfScore, RefusesWhatIsNoTune) {
  Tune empty;
  empty.metre(0, 4, 2);
  EXPECT_EQ(parse_smf_score(empty.bytes(), "e.mid").error().kind, ErrorKind::unreadable);
  Tune endless(1);
  endless.note(0, 1, 60);
  endless.note(std::int64_t{1} << 40, 1, 60);
  EXPECT_EQ(parse_smf_score(endless.bytes(), "e.mid").error().kind, ErrorKind::too_large);
  Tune shredded;
  shredded.metre(0, 1, 6).note(0, 480, 60).note(480 * 10'000, 480, 60);
  EXPECT_EQ(parse_smf_score(shredded.bytes(), "e.mid").error().kind, ErrorKind::too_large);
}

TEST(SmfScore, LeavesSenselessSignaturesOut) {
  Tune tune;
  tune.metre(0, 0, 2).metre(480, 4, 9).meta(0, 0x59, std::string("\x09\x00", 2));
  for (int i = 0; i < 4; ++i) tune.note(i * 480, 480, 60);
  const ReadScore read = tune.score();
  EXPECT_EQ(read.score.bars.size(), 1u);
  EXPECT_TRUE(tells(read, "3 time or key signatures"));
}

}  // namespace
}  // namespace loftbeat::music
