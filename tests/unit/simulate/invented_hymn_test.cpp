#include "simulate/invented_hymn.h"

#include <algorithm>
#include <tuple>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

class InventedHymn : public testing::TestWithParam<std::uint64_t> {
 protected:
  HymnShape shape = invented_shape(GetParam());
  music::Score score = invented_hymn(shape, GetParam());
};

TEST_P(InventedHymn, KeepsTheInvariantsOfAScore) {
  EXPECT_TRUE(std::is_sorted(
      score.notes.begin(), score.notes.end(), [](const music::Note& a, const music::Note& b) {
        return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
      }));
  Tick at = 0;
  for (const music::Bar& bar : score.bars) {
    EXPECT_EQ(bar.start, at);
    EXPECT_GT(bar.length, 0);
    at += bar.length;
  }
  EXPECT_EQ(at, score.length);
  EXPECT_EQ(score.phrases.size(), static_cast<std::size_t>(shape.phrases));
  EXPECT_EQ(score.phrases.front().span.begin, 0);
  EXPECT_EQ(score.phrases.back().span.end, score.length);
}

// Each voice sounds without gap or overlap from first to last, and the voices do not cross.
TEST_P(InventedHymn, HasFourWholeVoices) {
  std::vector<Tick> end(4, 0);
  for (const music::Note& note : score.notes) {
    auto& reached = end[static_cast<std::size_t>(note.voice)];
    EXPECT_EQ(note.onset, reached) << "voice " << note.voice;
    reached = note.onset + note.length;
    EXPECT_GE(note.pitch, 33);
    EXPECT_LE(note.pitch, 77);
  }
  for (const Tick reached : end) EXPECT_EQ(reached, score.length);
}

TEST_P(InventedHymn, VoicesDoNotCrossWhereTheyStrikeTogether) {
  for (std::size_t i = 1; i < score.notes.size(); ++i) {
    const music::Note& lower = score.notes[i - 1];
    const music::Note& upper = score.notes[i];
    if (lower.onset == upper.onset && lower.pitch < upper.pitch) {
      EXPECT_GT(lower.voice, upper.voice) << "tick " << lower.onset;
    }
  }
}

TEST_P(InventedHymn, CountsTheUpbeatAsPickup) {
  const bool upbeat = shape.upbeat_quarters > 0;
  EXPECT_EQ(score.bars.front().pickup, upbeat);
  EXPECT_EQ(score.bars.front().number, upbeat ? "0" : "1");
  const Tick full = 4 * kTicksPerQuarter * shape.beats / shape.beat_type;
  EXPECT_EQ(score.length % full, 0);
}

TEST_P(InventedHymn, IsTheSameUnderTheSameSeed) {
  EXPECT_EQ(score.notes, invented_hymn(shape, GetParam()).notes);
}

INSTANTIATE_TEST_SUITE_P(Seeds, InventedHymn, testing::Range<std::uint64_t>(1, 41));

TEST(InventedHymnForm, RepeatsPhrasesAsTheFormSays) {
  HymnShape shape;
  shape.form = PhraseForm::aaba;
  const music::Score score = invented_hymn(shape, 5);
  const auto phrase = [&](std::size_t index) {
    std::vector<std::tuple<Tick, int, int>> notes;
    const TickSpan span = score.phrases[index].span;
    for (const music::Note& note : score.notes) {
      if (span.contains(note.onset)) {
        notes.emplace_back(note.onset - span.begin, note.pitch, note.voice);
      }
    }
    return notes;
  };
  EXPECT_EQ(phrase(0), phrase(1));
  EXPECT_NE(phrase(0), phrase(2));
}

TEST(InventedHymnForm, HasQuaversRepeatedNotesAndFermatasWhenAsked) {
  HymnShape shape;
  shape.quaver_share = 0.5;
  shape.repeated_share = 0.4;
  shape.fermatas = Fermatas::phrase_ends;
  const music::Score score = invented_hymn(shape, 9);
  int quavers = 0;
  int repeats = 0;
  int last = -1;
  for (const music::Note& note : score.notes) {
    if (note.voice != 0) continue;
    if (note.length == kTicksPerQuarter / 2) ++quavers;
    if (note.pitch == last) ++repeats;
    last = note.pitch;
  }
  EXPECT_GT(quavers, 4);
  EXPECT_GT(repeats, 2);
  EXPECT_EQ(score.fermatas.size(), 4u);
}

}  // namespace
}  // namespace loftbeat::simulate
