#include "simulate/truth_alignment.h"

#include "stage.h"
#include "take/hygiene.h"

namespace loftbeat::simulate {
namespace {

struct Aligned {
  ModelCase model;
  ModelTake taken;
  take::CleanTake clean;
  follow::Alignment alignment;
};

Aligned aligned(ModelCase model) {
  auto taken = play(model);
  EXPECT_TRUE(taken.ok());
  Aligned a{std::move(model), std::move(taken).value(), {}, {}};
  a.clean = take::clean(a.taken.performance.take);
  a.alignment = truth_alignment({a.model.score, a.taken.route, a.taken.performance.truth, a.clean});
  return a;
}

class TruthAlignment : public testing::TestWithParam<std::uint64_t> {};

TEST_P(TruthAlignment, FindsEveryCleanNote) {
  const Aligned a = aligned(rough_player(GetParam()));
  ASSERT_EQ(a.alignment.notes.size(), a.clean.notes.size());
  for (std::size_t i = 0; i < a.clean.notes.size(); ++i) {
    EXPECT_GE(a.alignment.notes[i].pass, 0) << "note " << i;
  }
}

TEST_P(TruthAlignment, HasTheMediansAsPerformed) {
  const Aligned a = aligned(rough_player(GetParam()));
  const Truth& truth = a.taken.performance.truth;
  ASSERT_EQ(a.alignment.passes.size(), truth.passes.size());
  int apart = 0;
  int all = 0;
  for (std::size_t p = 0; p < truth.passes.size(); ++p) {
    const auto& found = a.alignment.passes[p].onsets;
    ASSERT_EQ(found.size(), truth.passes[p].onsets.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
      EXPECT_EQ(found[i].tick, truth.passes[p].onsets[i].tick);
      ++all;
      apart += std::abs(ms_apart(found[i].median, truth.passes[p].onsets[i].median)) > 5;
    }
    EXPECT_EQ(a.alignment.passes[p].first_onset, truth.passes[p].first_onset);
  }
  // Unisons of two divisions within 10 ms become one note, which moves a median now and then.
  EXPECT_LE(apart, all / 100);
}

TEST_P(TruthAlignment, AccountsForEveryScoreNoteOnce) {
  const Aligned a = aligned(model_player(GetParam()));
  std::size_t struck = a.alignment.missed.size() + a.alignment.held.size();
  for (const follow::NoteMatch& match : a.alignment.notes) struck += match.score >= 0;
  std::size_t meant = 0;
  for (const follow::AlignedPass& pass : a.alignment.passes) {
    for (const music::Note& note : a.model.score.notes) {
      for (const TickSpan& span : pass.spans) meant += span.contains(note.onset);
    }
  }
  EXPECT_EQ(struck, meant);
}

INSTANTIATE_TEST_SUITE_P(Seeds, TruthAlignment, testing::Range<std::uint64_t>(1, 13));

}  // namespace
}  // namespace loftbeat::simulate
