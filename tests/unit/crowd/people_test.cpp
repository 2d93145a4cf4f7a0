// People who sing along with simulated players, through the follower's live position.

#include "crowd/people.h"

#include <cmath>
#include <cstdlib>
#include <vector>

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::crowd {
namespace {

Manners exact(double reluctance) {
  Manners manners;
  manners.reluctance = reluctance;
  manners.interval_sd = 0;
  manners.metres = 20;
  return manners;
}

NextBeat metronome(double period = 0.75) {
  return [period](const Beaten&) { return period; };
}

// Tells people every 10 ms, from `from_s` up to `to_s`, that the crotchet `beat` of the first pass
// was struck at `struck_s` last.
void tell(People& people, int beat, double struck_s, double from_s, double to_s) {
  const int steps = static_cast<int>(std::ceil((to_s - from_s) / 0.01));
  for (int i = 0; i < steps; ++i) {
    const double now = from_s + 0.01 * i;
    people.advance(instant_from_seconds(now),
                   position_of(1, 0, beat * kTicksPerQuarter, struck_s, 0.75, now));
  }
}

constexpr double kWay = 20 * kSecondsPerMetre;

// Firm, 80 a minute: people lag behind what they hear by r P / a, and are heard the way both
// ways later. Source: worked by hand in keeping_together.h.
TEST(People, BehindAMetronomeSettleAtTheClosedFormAndTheDelayBothWays) {
  for (const double r : {0.0, 0.04, 0.08}) {
    const TuneScene scene = tune_scene({32, 32, 1, false});
    People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(r), 1);
    const Played played = play(scene, people, metronome());
    const std::vector<double> sung = sung_beats(people, 1, 128);
    const double heard_by_player = sung[120] + kWay - played.struck_s[0][120];
    EXPECT_NEAR(heard_by_player, 2 * kWay + r * 0.75 / 0.35, 0.0005) << r;
    EXPECT_NEAR(people.state().firmness, 1, 1e-6);
  }
}

// Nothing but the times of calls differs.
TEST(People, HowOftenTheyAreToldMakesNoDifference) {
  const TuneScene scene = tune_scene({8, 4, 3, true});
  std::vector<double> last;
  for (const double step : {0.001, 0.0073, 0.02}) {
    People people(scene.score, scene.route, plan::BeatUnit::quarter, Manners{}, 5);
    play(scene, people, metronome(), step);
    std::vector<double> times;
    for (const CrowdBeat& beat : people.beats()) times.push_back(seconds(beat.sung));
    ASSERT_EQ(times.size(), 3 * 32U);
    if (!last.empty()) {
      for (std::size_t i = 0; i < times.size(); ++i) EXPECT_NEAR(times[i], last[i], 1e-3);
    }
    last = times;
  }
}

TEST(People, SameSeedSameSingingOtherSeedOther) {
  const TuneScene scene = tune_scene({8, 4, 2, true});
  const auto beats_of = [&](std::uint64_t seed) {
    People people(scene.score, scene.route, plan::BeatUnit::quarter, Manners{}, seed);
    play(scene, people, metronome());
    return people.beats();
  };
  EXPECT_EQ(beats_of(3), beats_of(3));
  EXPECT_NE(beats_of(3), beats_of(4));
}

TEST(People, SingTheVersesAndNotThePlayOver) {
  const TuneScene scene = tune_scene({8, 4, 2, true});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.03), 1);
  play(scene, people, metronome());
  const std::vector<SungEvent> events = people.take_events();
  std::size_t notes = 0;
  for (const SungEvent& event : events) notes += event.what == SungEvent::What::note;
  EXPECT_EQ(notes, 2 * 32U);
  for (const CrowdBeat& beat : people.beats()) EXPECT_GE(beat.pass, 2);
  for (std::size_t i = 1; i < events.size(); ++i) EXPECT_GE(events[i].sung, events[i - 1].sung);
  for (const SungEvent& event : events) EXPECT_NEAR(seconds(event.heard - event.sung), kWay, 1e-8);
}

// Breath: before each of the two phrases' ends 0.3 s (0.4 of a beat of 0.75 s, the lesser) less.
TEST(People, BreatheAtPhraseEnds) {
  const TuneScene scene = tune_scene({8, 4, 1, false});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0), 1);
  play(scene, people, metronome());
  const std::vector<SungEvent> events = people.take_events();
  std::vector<double> silences;
  for (const SungEvent& event : events)
    if (event.what == SungEvent::What::silence) silences.push_back(seconds(event.sung));
  const std::vector<double> sung = sung_beats(people, 1, 32);
  ASSERT_EQ(silences.size(), 2U);
  EXPECT_NEAR(silences[0], sung[16] - 0.3, 0.003);
  EXPECT_NEAR(silences[1], sung[31] + 0.45, 0.003);
}

// The first time 0.3 s (scatter 10 %) after hearing; when the second join is like the first, 0.4 of
// it.
TEST(People, ComeInLateAndQuickerWhenTheyKnowTheJoin) {
  std::vector<double> first;
  std::vector<double> third;
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    const TuneScene scene = tune_scene({8, 4, 3, true});
    People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0), seed);
    const Played played = play(scene, people, metronome());
    first.push_back(sung_beats(people, 2, 32)[0] - played.struck_s[1][0] - kWay);
    third.push_back(sung_beats(people, 4, 32)[0] - played.struck_s[3][0] - kWay);
  }
  double a = 0;
  double b = 0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    a += first[i] / 50;
    b += third[i] / 50;
  }
  EXPECT_NEAR(a, 0.30, 0.015);  // 0.03 / sqrt 50 is 4 ms; four times that
  EXPECT_NEAR(b, 0.12, 0.015);
}

// A weak player: intervals scatter by 8 %. People take less notice of him, and lag more.
TEST(People, FollowAFirmPlayerAndDragAWeakOne) {
  double lags[2] = {};
  for (int weak = 0; weak < 2; ++weak) {
    const TuneScene scene = tune_scene({64, 64, 1, false});
    People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.04), 1);
    rt::Chance chance(9);
    const Played played = play(scene, people, [&](const Beaten&) {
      return 0.75 * (1 + (weak != 0 ? 0.08 : 0.01) * chance.normal());
    });
    const std::vector<double> sung = sung_beats(people, 1, 256);
    for (std::size_t k = 56; k < 256; ++k)
      lags[weak] += (sung[k] - played.struck_s[0][k] - kWay) / 200;
  }
  EXPECT_NEAR(lags[0], 0.04 * 0.75 / 0.35, 0.02);
  EXPECT_GT(lags[1], 1.4 * lags[0]);
}

// He who waits for the people slows down, and so do they; who does not, does not.
TEST(People, AndAPlayerWhoGivesWaySlowDownTogether) {
  const TuneScene scene = tune_scene({32, 32, 1, false});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.04), 1);
  double own = 0.75;
  play(scene, people, [&](const Beaten& beaten) {
    own += 0.1 * std::max(0.0, beaten.lag_s - 2 * kWay);
    return own;
  });
  const std::vector<double> sung = sung_beats(people, 1, 128);
  EXPECT_GT(sung[127] - sung[126], 0.75 * 1.3);
  EXPECT_GT(own, 0.75 * 1.3);
}

// The organ stops after beat 10: people sing beat 11, that it owes, and one more, hold it, and
// after four seconds let go.
TEST(People, WaitForAnOrganThatStops) {
  const TuneScene scene = tune_scene({8, 4, 1, false});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.02), 1);
  for (int k = 0; k <= 10; ++k) tell(people, k, 1 + 0.75 * k, 1 + 0.75 * k, 1.749 + 0.75 * k);
  tell(people, 10, 8.5, 9.25, 12);
  EXPECT_TRUE(people.state().singing);
  EXPECT_TRUE(people.state().waiting);
  EXPECT_EQ(people.beats().back().tick, 12 * kTicksPerQuarter);
  tell(people, 10, 8.5, 12, 20);
  EXPECT_FALSE(people.state().singing);
  EXPECT_EQ(people.take_events().back().what, SungEvent::What::silence);
}

// He leaps four bars on in the middle of a phrase: they fall out, and come in with the next.
TEST(People, FallOutAtALeapAndComeInWithTheNextPhrase) {
  const TuneScene scene = tune_scene({24, 4, 1, false});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.02), 1);
  int place = 0;
  bool fell_out = false;
  for (int k = 0; k < 50; ++k, ++place) {
    if (k == 10) place += 18;
    tell(people, place, 1 + 0.75 * k, 1 + 0.75 * k, 1.749 + 0.75 * k);
    fell_out = fell_out || (place == 30 && !people.state().singing);
    if (place == 34) {
      EXPECT_TRUE(people.state().singing);
    }
  }
  EXPECT_TRUE(fell_out);
  for (const CrowdBeat& beat : people.beats()) {
    const Tick at = beat.tick / kTicksPerQuarter;
    EXPECT_TRUE(at <= 11 || at >= 32) << at;
  }
}

// A fermata of two beats more at the end of bar 4: people hold till the organ goes on.
TEST(People, HoldWhatThePlanHoldsUntilTheOrganGoesOn) {
  TuneScene scene = tune_scene({8, 4, 1, false});
  scene.route.holds.push_back(
      {15 * kTicksPerQuarter, 16 * kTicksPerQuarter, plan::FermataKind::hold, 2});
  People people(scene.score, scene.route, plan::BeatUnit::quarter, exact(0.02), 1);
  const Played played =
      play(scene, people, [](const Beaten& beaten) { return beaten.beat == 15 ? 2.25 : 0.75; });
  const std::vector<double> sung = sung_beats(people, 1, 32);
  // Half of the entry's time after they hear it.
  EXPECT_NEAR(sung[16] - played.struck_s[0][16] - kWay, 0.15, 0.02);
  EXPECT_FALSE(std::isnan(sung[31]));
}

// Whatever the player does, time runs forward, beats come in order and nothing is sung twice.
TEST(People, StandAnythingAPlayerMayDo) {
  const int tries = std::getenv("LOFTBEAT_QUICK") != nullptr ? 20 : 200;
  const TuneScene scene = tune_scene({16, 4, 4, true});
  for (int seed = 1; seed <= tries; ++seed) {
    rt::Chance chance(static_cast<std::uint64_t>(seed));
    Manners manners;
    manners.metres = 60 * chance.unit();
    manners.reluctance = 0.08 * chance.unit();
    People people(scene.score, scene.route, plan::BeatUnit::quarter, manners, 1);
    double now = 0;
    int pass = 1;
    int place = 0;
    Instant last{};
    for (int k = 0; k < 300; ++k) {
      const double struck = now;
      const double until = now + 0.1 + 1.2 * chance.unit();
      while (now < until) {
        people.advance(instant_from_seconds(now),
                       position_of(pass, pass < 6 ? pass - 1 : -1, place * kTicksPerQuarter, struck,
                                   0.75, now));
        now += 0.02;
      }
      place = chance.unit() < 0.9 ? place + 1 : static_cast<int>(70 * chance.unit());
      if (place >= 64 || chance.unit() < 0.01) {
        place = 0;
        ++pass;
      }
      for (const SungEvent& event : people.take_events()) {
        EXPECT_GE(event.sung, last);
        last = event.sung;
      }
      EXPECT_LE(seconds(last), now + People::kAheadSeconds + 1e-6);
    }
    for (std::size_t i = 1; i < people.beats().size(); ++i)
      EXPECT_GE(people.beats()[i].sung, people.beats()[i - 1].sung);
  }
}

}  // namespace
}  // namespace loftbeat::crowd
