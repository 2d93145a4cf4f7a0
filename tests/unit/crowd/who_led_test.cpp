// Who led, on simulated players who play against the people of people.h.

#include "crowd/who_led.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::crowd {
namespace {

int tries(int all) { return std::getenv("LOFTBEAT_QUICK") != nullptr ? all / 10 : all; }

struct Session {
  TuneScene scene;
  Played played;
  CrowdRecord record;
  [[nodiscard]] WhoLed judge() const {
    return who_led({scene.score, scene.route, played.alignment, record, plan::BeatUnit::quarter});
  }
};

Session session(const Manners& manners, std::uint64_t seed, const NextBeat& next,
                const TuneForm& form = {8, 4, 4, true}) {
  Session made;
  made.scene = tune_scene(form);
  People people(made.scene.score, made.scene.route, plan::BeatUnit::quarter, manners, seed);
  made.played = play(made.scene, people, next);
  made.record.people = manners.people;
  made.record.reluctance = manners.reluctance;
  made.record.metres = manners.metres;
  made.record.beats = people.beats();
  return made;
}

// A player of flesh: each beat's length scatters by itself (his inner clock) and each stroke too
// (his hands); between verses the tempo moves a little.
class Human {
 public:
  struct Nature {
    double clock_sd = 0.015;   // share of the beat
    double hand_s = 0.008;     // standard deviation
    double verse_sd = 0.005;   // share
    double yields_period = 0;  // h: of the lag heard, to the next beat and all that follow
    double yields_phase = 0;   // g: to the next beat alone
  };
  Human(const Nature& nature, std::uint64_t seed, double period)
      : nature_(nature), chance_(seed), set_(period), period_(period) {}
  double operator()(const Beaten& beaten) {
    if (beaten.beat == 0 && nature_.yields_period == 0)
      period_ = set_ * (1 + nature_.verse_sd * chance_.normal());
    period_ += nature_.yields_period * beaten.lag_s;
    const double hand = nature_.hand_s * chance_.normal();
    const double next = period_ * (1 + nature_.clock_sd * chance_.normal()) +
                        nature_.yields_phase * beaten.lag_s + hand - hand_;
    hand_ = hand;
    return next;
  }

 private:
  Nature nature_;
  rt::Chance chance_;
  double set_;
  double period_;
  double hand_ = 0;
};

Manners drawn_manners(rt::Chance& chance) {
  Manners manners;
  manners.reluctance = 0.03 + 0.05 * chance.unit();
  manners.people = 20 + static_cast<int>(200 * chance.unit());
  return manners;
}

// By hand: a metronome and people exactly 100 ms behind what they hear at 20 m.
TEST(WhoLed, LagIsWhatIsLeftAfterTheWayOfTheSound) {
  Session made = session({}, 1, [](const Beaten&) { return 0.75; }, {8, 4, 1, false});
  made.record.beats.clear();
  const auto& struck = made.played.struck_s[0];
  for (std::size_t k = 0; k < struck.size(); ++k)
    made.record.beats.push_back({1, static_cast<Tick>(k) * kTicksPerQuarter,
                                 instant_from_seconds(struck[k] + 20 * kSecondsPerMetre + 0.1)});
  const WhoLed led = made.judge();
  ASSERT_EQ(led.verses.size(), 1U);
  EXPECT_NEAR(*led.verses[0].lag_ms, 100, 1e-3);
  EXPECT_NEAR(*led.verses[0].spread_ms, 0, 1e-3);
  EXPECT_NEAR(*led.verses[0].tempo_bpm, 80, 1e-3);
  EXPECT_NEAR(*led.verses[0].slowing_percent, 0, 1e-3);
  ASSERT_EQ(led.verses[0].phrases.size(), 2U);
  EXPECT_EQ(led.verses[0].phrases[1].beats, 16);
  EXPECT_NEAR(*led.verses[0].phrases[1].lag_ms, 100, 1e-3);
  EXPECT_EQ(led.led, Led::firm);
  EXPECT_EQ(led.sentence, "You led: 1 verse at 80 in a minute, the people 100 ms behind you.");
}

// By hand: every beat 0.3 % longer than the one before: over the beats from 1 to 30, whose
// intervals lie 28 apart, less the one across the phrase end. exp(28 ln 1.003) - 1 = 8.75 % by the
// ends, the straight line's a little less against the middle.
TEST(WhoLed, SlowingIsTheGrowthOfTheBeat) {
  Manners manners;
  manners.reluctance = 0.08;
  double period = 0.75;
  const Session made =
      session(manners, 1, [&](const Beaten&) { return period *= 1.003; }, {8, 4, 1, false});
  const WhoLed led = made.judge();
  EXPECT_NEAR(*led.verses[0].slowing_percent, 8.4, 0.3);
  EXPECT_EQ(led.led, Led::gave_way);
  EXPECT_EQ(led.sentence.find("You gave way in verse 1: from 80 to 73 in a minute"), 0U)
      << led.sentence;
}

TEST(WhoLed, FirmPlayersAreFoundFirm) {
  int firm = 0;
  int gave_way = 0;
  const int all = tries(400);
  for (int seed = 1; seed <= all; ++seed) {
    rt::Chance chance(static_cast<std::uint64_t>(seed));
    const Manners manners = drawn_manners(chance);
    const double period = 0.6 + 0.4 * chance.unit();
    Human::Nature nature;
    nature.clock_sd = 0.01 + 0.015 * chance.unit();
    const WhoLed led = session(manners, static_cast<std::uint64_t>(seed),
                               Human(nature, static_cast<std::uint64_t>(seed) * 77, period))
                           .judge();
    firm += led.led == Led::firm;
    gave_way += led.led == Led::gave_way;
  }
  std::printf("firm players: %d of %d found firm, %d falsely told to have given way\n", firm, all,
              gave_way);
  EXPECT_GE(firm * 100, all * 99);
}

TEST(WhoLed, YieldingPlayersAreFoundYielding) {
  int gave_way = 0;
  const int all = tries(400);
  for (int seed = 1; seed <= all; ++seed) {
    rt::Chance chance(static_cast<std::uint64_t>(seed) + 5000);
    const Manners manners = drawn_manners(chance);
    const double period = 0.6 + 0.4 * chance.unit();
    Human::Nature nature;
    nature.clock_sd = 0.01 + 0.015 * chance.unit();
    nature.yields_period = 0.02 + 0.08 * chance.unit();
    nature.yields_phase = 0.2 * chance.unit();
    const WhoLed led = session(manners, static_cast<std::uint64_t>(seed),
                               Human(nature, static_cast<std::uint64_t>(seed) * 91, period))
                           .judge();
    gave_way += led.led == Led::gave_way;
    if (led.led != Led::gave_way)
      std::printf("missed: h %.3f g %.2f r %.3f: %s\n", nature.yields_period, nature.yields_phase,
                  manners.reluctance, led.sentence.c_str());
  }
  std::printf("yielding players: %d of %d found yielding\n", gave_way, all);
  EXPECT_GE(gave_way * 100, all * 95);
}

// Rough players (3 to 5 % a beat, one and a half percent between verses) who do not give way:
// scored, and held to one in twenty.
TEST(WhoLed, RoughPlayersAreSeldomFalselyTold) {
  int gave_way = 0;
  const int all = tries(400);
  for (int seed = 1; seed <= all; ++seed) {
    rt::Chance chance(static_cast<std::uint64_t>(seed) + 9000);
    const Manners manners = drawn_manners(chance);
    Human::Nature nature;
    nature.clock_sd = 0.03 + 0.02 * chance.unit();
    nature.verse_sd = 0.015;
    const WhoLed led = session(manners, static_cast<std::uint64_t>(seed),
                               Human(nature, static_cast<std::uint64_t>(seed) * 53, 0.75))
                           .judge();
    gave_way += led.led == Led::gave_way;
  }
  std::printf("rough players: %d of %d falsely told to have given way\n", gave_way, all);
  EXPECT_LE(gave_way * 20, all);
}

// People without reluctance: nothing to give way to, whatever the player does.
TEST(WhoLed, NobodyGivesWayToPeopleWhoAreWithHim) {
  Manners manners;
  manners.reluctance = 0;
  double period = 0.75;
  const WhoLed led = session(manners, 1, [&](const Beaten&) { return period *= 1.0005; }).judge();
  EXPECT_EQ(led.led, Led::not_tested);
  EXPECT_EQ(led.sentence, "The people were with you: there was nobody to pull along.");
}

// Beats that were taken for others' while following are no lag.
TEST(WhoLed, BeatsTakenForOthersAreLeftOut) {
  Session made = session({}, 1, [](const Beaten&) { return 0.75; }, {8, 4, 1, false});
  const double before = *made.judge().lag_ms;
  for (std::size_t k = 0; k < 8; ++k) made.record.beats[k].tick += 16 * kTicksPerQuarter;
  const WhoLed led = made.judge();
  EXPECT_EQ(led.verses[0].beats, 24);
  EXPECT_NEAR(*led.lag_ms, before, 5);
}

// A planned broadening is no giving way.
TEST(WhoLed, APlannedBroadeningIsLeftOut) {
  Manners manners;
  manners.reluctance = 0.06;
  const auto slows = [](const Beaten& beaten) {
    return beaten.pass == 4 && beaten.beat >= 20 ? 0.75 * std::pow(1.03, beaten.beat - 20) : 0.75;
  };
  Session made = session(manners, 1, slows);
  EXPECT_EQ(made.judge().verses.back().led, Led::gave_way);
  made.scene.route.passes[4].broaden_from = 20 * kTicksPerQuarter;
  EXPECT_EQ(made.judge().verses.back().led, Led::firm);
}

TEST(WhoLed, TooLittleIsNotJudged) {
  Session made = session({}, 1, [](const Beaten&) { return 0.75; }, {8, 4, 1, false});
  made.record.beats.resize(6);
  WhoLed led = made.judge();
  EXPECT_EQ(led.led, Led::unknown);
  EXPECT_FALSE(led.lag_ms);
  EXPECT_EQ(led.sentence, "Too little was sung to tell who led.");
  made.record.beats.clear();
  led = made.judge();
  EXPECT_TRUE(led.verses.empty());
  EXPECT_EQ(led.led, Led::unknown);
}

}  // namespace
}  // namespace loftbeat::crowd
