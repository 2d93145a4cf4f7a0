#include <algorithm>
#include <cmath>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

Performance with(const Fault& fault, Scene made = scene()) {
  made.player.faults = {fault};
  return made.play();
}

const TruePass& pass(const Performance& played, std::size_t index) {
  return played.truth.passes.at(index);
}

TEST(Faults, ACountSlipMovesOnlyItsJoinByWholeBeats) {
  const Performance played = with({FaultKind::count_slip, 2, kAnywhere, 1});
  EXPECT_NEAR(played.truth.joins[2].span_beats, 5, 1e-6);
  EXPECT_NEAR(played.truth.joins[1].span_beats, 4, 1e-6);
  ASSERT_EQ(played.truth.faults.size(), 1u);
  EXPECT_EQ(played.truth.faults[0].pass, 2);
}

TEST(Faults, APhaseSlipMovesItsJoinByAPart) {
  const Performance played = with({FaultKind::phase_slip, 1, kAnywhere, -0.4});
  EXPECT_NEAR(played.truth.joins[1].span_beats, 3.6, 1e-6);
  EXPECT_GT(played.truth.joins[1].silence_s, 0);
}

TEST(Faults, AHesitationLosesTimeAtOneBeatWithoutSilence) {
  const Performance played = with({FaultKind::hesitation, 2, kAnywhere, 0.6});
  const Tick place = played.truth.faults.at(0).tick;
  int late = 0;
  const auto& onsets = pass(played, 2).onsets;
  for (std::size_t i = 1; i < onsets.size(); ++i) {
    const double extra = seconds(onsets[i].median - onsets[i - 1].median) -
                         quarters(onsets[i].tick - onsets[i - 1].tick);
    if (std::fabs(extra) < 1e-6) continue;
    ++late;
    EXPECT_EQ(onsets[i].tick, place);
    EXPECT_NEAR(extra, 0.6, 1e-6);
  }
  EXPECT_EQ(late, 1);
}

TEST(Faults, AHesitationNeverHidesAtAPhraseBegin) {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    Scene made = scene(invented_shape(seed), seed);
    made.player.faults = {{FaultKind::hesitation, 1, kAnywhere, 0.6}};
    const Performance played = made.play(seed);
    for (const music::Phrase& phrase : made.score.phrases) {
      EXPECT_NE(played.truth.faults.at(0).tick, phrase.span.begin);
    }
  }
}

TEST(Faults, ARestartGoesBackAndKeepsTheLastTime) {
  const Performance played = with({FaultKind::restart, 1, kAnywhere, 1});
  ASSERT_EQ(pass(played, 1).restarts.size(), 1u);
  const TrueRestart& restart = pass(played, 1).restarts[0];
  EXPECT_LT(restart.to, restart.from + 1);
  EXPECT_GT(restart.lost.count(), 0);
  EXPECT_FALSE(restart.false_start);
  for (const TrueNote& note : played.truth.notes) {
    if (note.pass != 1) continue;
    const bool replayed = note.tick >= restart.to && note.on < restart.at;
    EXPECT_EQ(note.superseded, replayed);
  }
  EXPECT_TRUE(played.truth.missed.empty());
}

TEST(Faults, AFalseStartBeginsAgainWithinThePass) {
  const Performance played = with({FaultKind::false_start, 1, kAnywhere, 2});
  EXPECT_EQ(played.truth.passes.size(), 4u);
  ASSERT_EQ(pass(played, 1).restarts.size(), 1u);
  EXPECT_TRUE(pass(played, 1).restarts[0].false_start);
  EXPECT_EQ(pass(played, 1).restarts[0].to, 0);
}

TEST(Faults, ACorrectionStrikesTheRightNoteLater) {
  for (const double cost : {0.0, 1.0}) {
    const Performance played = with({FaultKind::correction, 1, kAnywhere, cost});
    ASSERT_EQ(pass(played, 1).corrections.size(), 1u);
    const TrueCorrection& correction = pass(played, 1).corrections[0];
    EXPECT_NE(correction.wrong_pitch, correction.right_pitch);
    EXPECT_TRUE(played.truth.missed.empty());
    const double length = seconds(pass(played, 1).last_onset - pass(played, 1).first_onset);
    EXPECT_NEAR(length, quarters(pass(played, 1).onsets.back().tick) + cost, 1e-6);
  }
}

TEST(Faults, PassesAreAddedAndLost) {
  EXPECT_EQ(with({FaultKind::missing_pass, 2}).truth.passes.size(), 3u);
  const Performance extra = with({FaultKind::extra_pass, 3});
  ASSERT_EQ(extra.truth.passes.size(), 5u);
  EXPECT_EQ(extra.truth.passes[4].label, "4");
  EXPECT_EQ(extra.truth.passes[4].route_pass, -1);
}

TEST(Faults, APhraseLeftOutIsJumpedOver) {
  const Performance played = with({FaultKind::phrase_left_out, 2});
  const Scene made = scene();
  EXPECT_LT(pass(played, 2).onsets.size(), pass(played, 1).onsets.size());
  const Tick gone = played.truth.faults.at(0).tick;
  for (const TrueNote& note : played.truth.notes) {
    if (note.pass == 2) {
      EXPECT_NE(note.tick, gone);
    }
  }
}

TEST(Faults, AnUnwrittenInterludeIsAnAside) {
  const Performance played = with({FaultKind::unwritten_interlude, 1, kAnywhere, 8});
  EXPECT_EQ(played.truth.passes.size(), 4u);
  ASSERT_EQ(played.truth.asides.size(), 1u);
  EXPECT_EQ(played.truth.asides[0].after_pass, 1);
  EXPECT_TRUE(played.truth.joins[1].with_interlude);
  EXPECT_GE(played.truth.asides[0].begin, pass(played, 1).last_release);
  EXPECT_LE(played.truth.asides[0].end, pass(played, 2).first_onset);
}

TEST(Faults, SlowingConcernsTheLastFourBeatsOnly) {
  const Performance played = with({FaultKind::slowing, 0, kAnywhere, 20});
  const auto& onsets = pass(played, 0).onsets;
  const Tick last = onsets.back().tick;
  for (std::size_t i = 1; i < onsets.size(); ++i) {
    const double tempo = quarters(onsets[i].tick - onsets[i - 1].tick) /
                         seconds(onsets[i].median - onsets[i - 1].median);
    if (onsets[i].tick <= last - 4 * kTicksPerQuarter) {
      EXPECT_NEAR(tempo, 1, 1e-6);
    }
    EXPECT_GE(tempo, 0.799);
  }
  EXPECT_NEAR(played.truth.joins[0].span_beats, 4, 1e-6);
}

TEST(Faults, DraggingSlowsEvenly) {
  const Performance played = with({FaultKind::dragging, 2, kAnywhere, 10});
  const double dragged = seconds(pass(played, 2).last_onset - pass(played, 2).first_onset);
  const double plain = seconds(pass(played, 1).last_onset - pass(played, 1).first_onset);
  EXPECT_NEAR(dragged / plain, 1.05, 0.005);
  EXPECT_NEAR(pass(played, 2).tempo_bpm, 57, 1e-9);
}

TEST(Faults, LateFeetMoveThePedalAlone) {
  const Performance played = with({FaultKind::late_feet, kEveryPass, kAnywhere, 80});
  for (const TrueNote& note : played.truth.notes) {
    EXPECT_NEAR(ms_apart(note.on, note.intended), note.voice == 3 ? 80 : 0, 1e-3);
  }
}

TEST(Faults, ASmearHoldsIntoTheNextNote) {
  Fault fault{FaultKind::smear, 1, kAnywhere, 150};
  fault.share = 0.5;
  const Performance played = with(fault);
  int smeared = 0;
  for (const TrueNote& note : played.truth.notes) {
    for (const TrueNote& next : played.truth.notes) {
      if (note.pass == next.pass && note.voice == next.voice && note.on < next.on &&
          ms_apart(note.off, next.on) > 100) {
        EXPECT_EQ(note.pass, 1);
        ++smeared;
        break;
      }
    }
  }
  EXPECT_GT(smeared, 10);
}

TEST(Faults, UnstruckRepeatsAreHeldOn) {
  const Performance played = with({FaultKind::repeats_unstruck, 1});
  EXPECT_FALSE(played.truth.held.empty());
  EXPECT_TRUE(played.truth.missed.empty());
  for (const TrueAbsence& held : played.truth.held) EXPECT_EQ(held.pass, 1);
}

TEST(Faults, ATimidPlayOverIsSofter) {
  Scene made = scene();
  made.player.console.velocity_kind = VelocityKind::varied;
  const Performance played = with({FaultKind::timid, 0, kAnywhere, 40}, made);
  double sum[2] = {};
  int count[2] = {};
  for (const TrueNote& note : played.truth.notes) {
    if (note.pass > 1) continue;
    sum[note.pass] += note.velocity;
    ++count[note.pass];
  }
  EXPECT_NEAR((sum[0] / count[0]) / (sum[1] / count[1]), 0.6, 0.03);
}

// A fault must not disturb what chance does elsewhere.
TEST(Faults, LeaveAllElseAsItWas) {
  const ModelCase good = model_player(12);
  ModelCase late = good;
  late.player.faults = {{FaultKind::late_feet, kEveryPass, kAnywhere, 80}};
  const auto a = play(good);
  const auto b = play(late);
  ASSERT_TRUE(a.ok() && b.ok());
  const auto onsets = [](const ModelTake& taken) {
    std::vector<Instant> at;
    for (const TrueNote& note : taken.performance.truth.notes) {
      if (note.voice == 0) at.push_back(note.on);
    }
    return at;
  };
  EXPECT_EQ(onsets(*a), onsets(*b));
}

}  // namespace
}  // namespace loftbeat::simulate
