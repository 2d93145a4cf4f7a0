// What is shown of simulated players. The truth is the simulator's: promises kept, not outside
// evidence.

#include "live/live_view.h"

#include <gtest/gtest.h>

#include "simulate/simulate.h"

namespace loftbeat::live {
namespace {

struct Hymn {
  music::Score score = simulate::invented_hymn({}, 3);
  plan::Plan plan;
  plan::Route route;
  Hymn() {
    plan.tempo_bpm = 60;
    plan.verses = 2;
    plan.play_over.kind = plan::PlayOverKind::first_and_last;
    plan.join = plan::Join{plan::JoinKind::hold_and_lift, 3, 1, 0};
    route = plan::make_route(plan, score).value();
  }
  [[nodiscard]] LiveView::Work work() const { return {&plan, &score, &route, 60}; }
  [[nodiscard]] simulate::Performance play(const simulate::Player& player) const {
    return simulate::perform({score, plan, route}, player, 5);
  }
};

// Looks a quarter of a beat after each true onset.
template <typename Look>
void look_at_all(const Hymn& hymn, const simulate::Performance& played, Look look) {
  LiveView view(hymn.work());
  std::size_t next = 0;
  for (std::size_t p = 0; p < played.truth.passes.size(); ++p) {
    for (const simulate::TrueOnset& onset : played.truth.passes[p].onsets) {
      const Instant at = onset.median + Nanoseconds(250'000'000);
      for (; next < played.take.events.size() && played.take.events[next].at <= at; ++next)
        view.feed(played.take.events[next]);
      look(p, onset, view.look(at));
    }
  }
}

TEST(LiveView, SaysPassBarAndBeatOfAFaultlessPlayer) {
  const Hymn hymn;
  const auto played = hymn.play({});
  int right = 0;
  int all = 0;
  look_at_all(hymn, played, [&](std::size_t p, const auto& onset, const NowPlaying& now) {
    ++all;
    const auto& pass = played.truth.passes[p];
    const bool same_pass = now.pass == pass.label;
    const bool same_bar = now.bar == music::bar_at(hymn.score, onset.tick).number;
    const double beat = music::beat_in_bar(hymn.score, onset.tick, kTicksPerQuarter);
    if (same_pass && same_bar && now.beat >= beat && now.beat < beat + 0.9) ++right;
  });
  EXPECT_GE(right, all * 99 / 100);
  EXPECT_GT(all, 60);
}

TEST(LiveView, TellsTheLastPhraseTheJoinAndWhatComes) {
  const Hymn hymn;
  const auto played = hymn.play({});
  bool seen_join = false;
  look_at_all(hymn, played, [&](std::size_t p, const auto& onset, const NowPlaying& now) {
    const auto& spans = hymn.route.passes[p].spans;
    const bool last_onset = onset.tick == played.truth.passes[p].onsets.back().tick;
    EXPECT_EQ(now.in_join, last_onset) << "pass " << p << " tick " << onset.tick;
    seen_join = seen_join || now.in_join;
    EXPECT_EQ(now.coming_join, p < 2 ? static_cast<int>(p) : -1);
    const TickSpan last = hymn.route.phrases.back().span;
    EXPECT_EQ(now.last_phrase, last.contains(onset.tick) && spans.back().contains(onset.tick));
  });
  EXPECT_TRUE(seen_join);
}

// 5 % slower: at a minute's tempo 60, 20 beats after the pass's first the player is 20/0.95 - 20 =
// 1.053 s behind.
TEST(LiveView, SaysHowFarBehindTheSetTempoThePlayerIs) {
  const Hymn hymn;
  simulate::Player player;
  player.tempo.factor = 0.95;
  const auto played = hymn.play(player);
  look_at_all(hymn, played, [&](std::size_t p, const auto& onset, const NowPlaying& now) {
    if (p != 1 || !now.behind_seconds) return;
    const double beats = static_cast<double>(onset.tick) / kTicksPerQuarter;
    EXPECT_NEAR(*now.behind_seconds, beats / 0.95 - beats, 0.03) << beats;
  });
}

TEST(LiveView, NothingIsSaidBeforeTheFirstNote) {
  const Hymn hymn;
  const LiveView view(hymn.work());
  const NowPlaying now = view.look(Instant{Nanoseconds(1'000'000'000)});
  EXPECT_FALSE(now.begun);
  EXPECT_EQ(now.coming_join, -1);
}

}  // namespace
}  // namespace loftbeat::live
