#include <gtest/gtest.h>

#include <random>

#include "plan/read.h"
#include "plan/route.h"
#include "tunes.h"

namespace loftbeat::plan {
namespace {

// Every figure below was counted by hand on the fingers: "1 2 3 | 4" and so on; common practice,
// no source. The last chord's onset is beat zero of the count.

double span(std::string_view join, const music::Score& score, BeatUnit beat = BeatUnit::quarter) {
  const Tick last = score.notes.back().onset;
  return join_span_beats(*parse_join(join), score, beat, last, {0, score.length},
                         score.notes.front().onset);
}

TEST(JoinSpan, hold_and_lift_is_their_sum_whatever_the_metre) {
  EXPECT_EQ(span("3+2", common_metre_tune()), 5);
  EXPECT_EQ(span("3+1", common_metre_tune()), 4);
  EXPECT_EQ(span("2.5+0.5", long_tune()), 3);
  EXPECT_EQ(span("2+1", long_tune(), BeatUnit::half), 3);
}

TEST(JoinSpan, a_last_bar_that_completes_the_upbeat_runs_on_exactly) {
  // 4/4: chord on 1, sounding 1 2 3, upbeat on 4.
  EXPECT_EQ(span("bar", common_metre_tune()), 3);
  EXPECT_EQ(span("bar+1", common_metre_tune()), 7);
  EXPECT_EQ(span("bar+2", common_metre_tune()), 11);
}

TEST(JoinSpan, a_full_last_bar_is_cut_short_by_the_upbeat) {
  // 4/4: upbeat on 4, yet the last chord is written through 4: it gives up that beat.
  const auto tune = TuneMaker({4, 4}).upbeat(kQ).full_bars(2).crotchets(5).notes({4 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 3);
  EXPECT_EQ(span("bar+1", tune), 7);
}

TEST(JoinSpan, a_chord_is_not_cut_below_half_of_itself) {
  // 4/4 with an upbeat of three beats (2 3 4), semibreve at the end: on 2 it would have had one
  // beat of its four, so the upbeat waits for the next bar's 2: 1 2 3 4 | 1, that is 5.
  const auto tune =
      TuneMaker({4, 4}).upbeat(3 * kQ).full_bars(2).crotchets(7).notes({4 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 5);
  // An upbeat of two beats (3 4) leaves exactly half: 2.
  const auto half =
      TuneMaker({4, 4}).upbeat(2 * kQ).full_bars(2).crotchets(6).notes({4 * kQ}).make();
  EXPECT_EQ(span("bar", half), 2);
}

TEST(JoinSpan, a_last_crotchet_in_the_upbeats_place_waits_a_whole_bar) {
  // 4/4: the last chord is a crotchet on 4, where the upbeat belongs: 4 | 1 2 3, then the upbeat.
  const auto tune = TuneMaker({4, 4}).upbeat(kQ).full_bars(2).crotchets(9).make();
  EXPECT_EQ(span("bar", tune), 4);
}

TEST(JoinSpan, without_an_upbeat_the_next_bar_follows) {
  EXPECT_EQ(span("bar", long_tune()), 2);  // minim on 3: 3 4 |
  EXPECT_EQ(span("bar+1", long_tune()), 6);
  const auto semibreve = TuneMaker({4, 4}).full_bars(2).crotchets(4).notes({4 * kQ}).make();
  EXPECT_EQ(span("bar", semibreve), 4);
}

TEST(JoinSpan, a_last_bar_short_without_an_upbeat_is_filled_up) {
  // 3/4, no upbeat, the last bar holds a minim only: the third beat still passes.
  const auto tune = TuneMaker({3, 4}).full_bars(1).bar(2 * kQ).crotchets(3).notes({2 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 3);
}

TEST(JoinSpan, triple_time_with_an_upbeat) {
  // 3/4: chord a minim on 1, upbeat on 3.
  const auto tune =
      TuneMaker({3, 4}).upbeat(kQ).full_bars(2).bar(2 * kQ).crotchets(7).notes({2 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 2);
  EXPECT_EQ(span("bar+1", tune), 5);
  // The same in dotted minim beats, one to the bar.
  EXPECT_DOUBLE_EQ(span("bar", tune, BeatUnit::dotted_half), 2.0 / 3.0);
}

TEST(JoinSpan, compound_time_counts_dotted_beats) {
  // 6/8, beat dotted crotchet, upbeat quaver: last chord of five quavers, upbeat is the sixth.
  const Tick quaver = kQ / 2;
  const auto tune = TuneMaker({6, 8})
                        .upbeat(quaver)
                        .full_bars(1)
                        .bar(5 * quaver)
                        .notes({quaver, 3 * quaver, 3 * quaver, 5 * quaver})
                        .make();
  EXPECT_DOUBLE_EQ(span("bar", tune, BeatUnit::dotted_quarter), 5.0 / 3.0);
  EXPECT_DOUBLE_EQ(span("bar+1", tune, BeatUnit::dotted_quarter), 11.0 / 3.0);
  // Counted in quavers the same span is 5.
  EXPECT_DOUBLE_EQ(span("bar", tune, BeatUnit::eighth), 5);
}

TEST(JoinSpan, minim_beats) {
  // 2/2, beat minim, upbeat a minim: the last bar is one minim long, and the upbeat follows it.
  const auto tune = TuneMaker({2, 2})
                        .upbeat(2 * kQ)
                        .full_bars(1)
                        .bar(2 * kQ)
                        .notes({2 * kQ, 2 * kQ, 2 * kQ, 2 * kQ})
                        .make();
  EXPECT_EQ(span("bar", tune, BeatUnit::half), 1);
  EXPECT_EQ(span("bar+1", tune, BeatUnit::half), 3);
  // 4/2 as in old hymn books, upbeat minim, last bar three minims: 3.
  const auto four = TuneMaker({4, 2}).upbeat(2 * kQ).bar(6 * kQ).notes({2 * kQ, 6 * kQ}).make();
  EXPECT_EQ(span("bar", four, BeatUnit::half), 3);
}

TEST(JoinSpan, a_chord_tied_over_a_bar_line_is_held_through_it) {
  // 4/4, no upbeat: chord from beat 3 through the whole next bar: 3 4 | 1 2 3 4.
  const auto tune = TuneMaker({4, 4}).full_bars(2).crotchets(2).notes({6 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 6);
  // With an upbeat crotchet and a last bar of three: 3 4 | 1 2 3.
  const auto upbeat =
      TuneMaker({4, 4}).upbeat(kQ).full_bars(1).bar(3 * kQ).crotchets(3).notes({5 * kQ}).make();
  EXPECT_EQ(span("bar", upbeat), 5);
}

TEST(JoinSpan, the_metre_that_ends_the_pass_runs_on) {
  // 3/4 then a last bar of 4/4, no upbeat: the chord on 3 has 3 4 and the bar line follows.
  const auto tune =
      TuneMaker({3, 4}).full_bars(1).metre({4, 4}).full_bars(1).crotchets(5).notes({2 * kQ}).make();
  EXPECT_EQ(span("bar", tune), 2);
  EXPECT_EQ(span("bar+1", tune), 6);
}

TEST(JoinSpan, a_play_over_of_one_line_meets_its_own_upbeat) {
  // The first phrase of the common metre tune ends with beats 1 2 3; its next upbeat is 4.
  const auto tune = common_metre_tune();
  EXPECT_EQ(join_span_beats({JoinKind::by_the_bar, 0, 0, 0}, tune, BeatUnit::quarter, 5 * kQ,
                            {0, 8 * kQ}, 0),
            3);
}

// Whatever the tune, the bars run on: counted from the last chord, the entry lies in the next
// pass's own place of the bar; and the chord keeps half of its length at least.
TEST(JoinSpan, by_the_bar_always_keeps_the_metre) {
  std::mt19937 random(3);
  for (int i = 0; i < 2000; ++i) {
    const int beats = 2 + static_cast<int>(random() % 5);
    const Tick full = beats * kQ;
    const Tick upbeat = static_cast<Tick>(random() % unsigned(beats)) * kQ;
    const Tick last_bar = kQ * (1 + static_cast<Tick>(random() % unsigned(beats)));
    const Tick chord = kQ * (1 + static_cast<Tick>(random() % unsigned(last_bar / kQ)));
    const int extra = static_cast<int>(random() % 3);
    TuneMaker maker({beats, 4});
    if (upbeat > 0) maker.upbeat(upbeat).notes({upbeat});
    const auto tune = maker.full_bars(1)
                          .bar(last_bar)
                          .crotchets(beats)
                          .rest(last_bar - chord)
                          .notes({chord})
                          .make();
    const Tick span_ticks = static_cast<Tick>(
        join_span_beats({JoinKind::by_the_bar, 0, 0, extra}, tune, BeatUnit::quarter,
                        tune.length - chord, {0, tune.length}, 0) *
        static_cast<double>(kQ));
    const Tick entry_place = (last_bar - chord + span_ticks) % full;
    EXPECT_EQ(entry_place, (full - upbeat) % full);
    const Tick bare = span_ticks - extra * full;
    EXPECT_GE(2 * bare, chord);
    EXPECT_LT(bare, chord + full);
  }
}

}  // namespace
}  // namespace loftbeat::plan
