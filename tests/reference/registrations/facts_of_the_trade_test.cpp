// What organists say of stops, beside what the model ranks give.
// Source: of the sayings, common practice, no source.
// They are claims, printed with their figures, and fail nothing: the ranks are models. What is
// asserted is only that every figure could be reckoned.

#include <cmath>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "parish.h"

namespace loftbeat::advise {
namespace {

using Stops = std::vector<std::string>;

const Stops kChorus = {"Great Open Diapason 8", "Great Principal 4"};

Heard heard_with(const Stops& stops, int people) {
  const Parish& all = parish();
  const auto drawn = all.drawn(stops);
  const auto chord = sounding_chord(
      all.organ, drawn,
      std::vector<organ::Speaking>{{kGreat, 71}, {kGreat, 67}, {kGreat, 62}, {kGreat, 55}});
  return heard(make_hall(all.church, people, people),
               registration_power(all.organ, drawn, all.powers, chord),
               hearing::voice_band_of_tune(62, 74));
}

Stops with(Stops stops, const std::string& more) {
  stops.push_back(more);
  return stops;
}

double sharpness(const Stops& stops) { return heard_with(stops, 0).sharpness_acum.value_or(NAN); }
double lead(const Stops& stops, int people) { return heard_with(stops, people).over.lead_sone; }

void claim(const std::string& saying, bool comes_out, const std::string& figures) {
  std::printf("  [%s] %s: %s\n", comes_out ? "comes out" : "DOES NOT COME OUT", saying.c_str(),
              figures.c_str());
}

std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%+.3f", value);
  return text;
}

TEST(FactsOfTheTrade, UpperWorkChangesSharpnessFarMoreThanAnExchangeOfFlues) {
  const double chorus = sharpness(kChorus);
  const double fifteenth = sharpness(with(kChorus, "Great Fifteenth 2")) - chorus;
  const double mixture = sharpness(with(kChorus, "Great Mixture III")) - chorus;
  const double flue = sharpness({"Great Stopped Diapason 8", "Great Principal 4"}) - chorus;
  const double string = sharpness({"Great Dulciana 8", "Great Principal 4"}) - chorus;
  claim("a 2' raises sharpness at least three times as much as an 8' flute for an 8' principal",
        fifteenth >= 3 * std::abs(flue), figure(fifteenth) + " against " + figure(flue) + " acum");
  claim("so does a mixture", mixture >= 3 * std::abs(flue),
        figure(mixture) + " against " + figure(flue) + " acum");
  claim("an 8' string for the principal is another matter", std::abs(string) > std::abs(flue),
        figure(string) + " acum");
  for (const double value : {chorus, fifteenth, mixture, flue, string}) {
    EXPECT_TRUE(std::isfinite(value));
  }
}

// The demo organ's Great has no open flute at 8': the same chorus on the organ of three manuals.
TEST(FactsOfTheTrade, AnOpenFluteForAPrincipal) {
  const Parish& all = parish();
  const auto organ = organ::read_organ(std::string(LOFTBEAT_SOURCE_DIR) +
                                       "/sessions/quaverham/minimsby.organ.toml");
  ASSERT_TRUE(organ.ok());
  const auto powers = StopPowers::make(*organ, all.recipes, pipes::RankPowers(all.recipes));
  ASSERT_TRUE(powers.ok()) << to_string(powers.error());
  const Hall hall = make_hall(all.church, 0, 0);
  const auto of = [&](const Stops& stops) {
    plan::RegistrationPlan names;
    names.stops = stops;
    const auto drawn = organ::resolve(*organ, names, "");
    EXPECT_TRUE(drawn.ok()) << to_string(drawn.error());
    const auto chord = sounding_chord(
        *organ, *drawn,
        std::vector<organ::Speaking>{{kGreat, 71}, {kGreat, 67}, {kGreat, 62}, {kGreat, 55}});
    return heard(hall, registration_power(*organ, *drawn, *powers, chord), {150, 600})
        .sharpness_acum.value_or(NAN);
  };
  const Stops flute = {"Great Claribel Flute 8", "Great Principal 4"};
  const double base = of(flute);
  const double principal = of({"Great Open Diapason I 8", "Great Principal 4"}) - base;
  const double fifteenth = of(with(flute, "Great Fifteenth 2")) - base;
  const double mixture = of(with(flute, "Great Mixture IV")) - base;
  claim(
      "over 8' and 4': a 2' raises sharpness at least three times as much as an 8' principal for "
      "an "
      "8' open flute",
      fifteenth >= 3 * std::abs(principal),
      figure(fifteenth) + " against " + figure(principal) + " acum");
  claim("so does a mixture", mixture >= 3 * std::abs(principal),
        figure(mixture) + " against " + figure(principal) + " acum");
  EXPECT_TRUE(std::isfinite(principal) && std::isfinite(mixture));
}

TEST(FactsOfTheTrade, AReedRaisesSharpnessStrongly) {
  const Parish& all = parish();
  const auto drawn = [&](const Stops& stops) { return all.drawn(stops, {"Swell to Great"}); };
  const Hall hall = make_hall(all.church, 0, 0);
  const auto of = [&](const Stops& stops) {
    const auto registration = drawn(stops);
    const auto chord = sounding_chord(
        all.organ, registration,
        std::vector<organ::Speaking>{{kGreat, 71}, {kGreat, 67}, {kGreat, 62}, {kGreat, 55}});
    return heard(hall, registration_power(all.organ, registration, all.powers, chord), {150, 600})
        .sharpness_acum.value_or(NAN);
  };
  const double chorus = of(kChorus);
  const double trumpet = of(with(kChorus, "Swell Trumpet 8")) - chorus;
  const double fifteenth = of(with(kChorus, "Great Fifteenth 2")) - chorus;
  claim("a reed raises sharpness strongly (half as much as a 2', or more)",
        trumpet >= 0.5 * fifteenth, figure(trumpet) + " acum; a 2' " + figure(fifteenth));
  EXPECT_TRUE(std::isfinite(trumpet));
}

// What a stop adds to the lead of one 8' stop.
struct Added {
  double upper = 0;
  double second = 0;  // a second 8'
  double base = 0;    // the lead before
};

Added added_lead(const std::string& stop, int people) {
  const Stops eight = {"Great Open Diapason 8"};
  const double base = lead(eight, people);
  return {lead(with(eight, stop), people) - base,
          lead(with(eight, "Great Stopped Diapason 8"), people) - base, base};
}

// "That difference shrinks" can be meant in more than one way; all are told. In sone it grows: a
// few singers cover little, so that whatever is drawn adds more. As a share of the lead that is
// there already, which is what the ear has to go by, it shrinks.
TEST(FactsOfTheTrade, UpperWorkLeadsAFullChurchAndMattersLessToAHandful) {
  for (const auto& [what, stop] :
       {std::pair("a 4'", "Great Principal 4"), std::pair("a 2'", "Great Fifteenth 2")}) {
    const Added many = added_lead(stop, 200);
    const Added few = added_lead(stop, 12);
    claim(std::string("under 200 singers ") + what + " adds more lead than a second 8'",
          many.upper > many.second,
          figure(many.upper) + " against " + figure(many.second) + " sone");
    claim(std::string("with a dozen the difference shrinks in sone, ") + what,
          few.upper - few.second < many.upper - many.second,
          figure(few.upper - few.second) + " with 12, " + figure(many.upper - many.second) +
              " with 200");
    claim(std::string("with a dozen it shrinks as a share of the lead there was, ") + what,
          (few.upper - few.second) / few.base < (many.upper - many.second) / many.base,
          figure((few.upper - few.second) / few.base) + " with 12, " +
              figure((many.upper - many.second) / many.base) + " with 200");
    for (const double value : {many.upper, many.second, few.upper, few.second}) {
      EXPECT_TRUE(std::isfinite(value));
    }
  }
}

TEST(FactsOfTheTrade, PeopleSwallowBrightness) {
  const Parish& all = parish();
  const auto drawn = all.drawn(with(kChorus, "Great Fifteenth 2"));
  const auto chord = sounding_chord(all.organ, drawn, kChord);
  const auto power = levels_of(registration_power(all.organ, drawn, all.powers, chord));
  const room::PeopleEffect effect = room::people_effect(all.church, power, {150, 150});
  double absorbed = 0;
  double masked = 0;
  for (const room::OctaveEffect& octave : effect.octaves) {
    std::printf(
        "  %5.0f Hz: level %+.1f dB by absorption; %.2f sone empty, %.2f lost by absorption, "
        "%.2f by masking\n",
        octave.nominal_hz, octave.absorption_db, octave.empty_sone,
        octave.lost_by_absorption_sone(), octave.lost_by_masking_sone());
    absorbed += octave.lost_by_absorption_sone();
    masked += octave.lost_by_masking_sone();
  }
  const double at_1k = effect.octaves[4].absorption_db;
  const double at_4k = effect.octaves[6].absorption_db;
  claim("people swallow the highest sounds most (absorption at 4 kHz exceeds that at 1 kHz)",
        at_4k < at_1k, figure(at_4k) + " dB against " + figure(at_1k) + " dB");
  claim("the larger part of what a full church takes is masking", masked > absorbed,
        figure(masked) + " against " + figure(absorbed) + " sone");
  const Heard empty = heard(make_hall(all.church, 0, 0),
                            registration_power(all.organ, drawn, all.powers, chord), {150, 600});
  const Heard full = heard(make_hall(all.church, 150, 0),
                           registration_power(all.organ, drawn, all.powers, chord), {150, 600});
  claim("a full church sounds duller, by absorption alone",
        *full.sharpness_acum < *empty.sharpness_acum,
        figure(*full.sharpness_acum - *empty.sharpness_acum) + " acum");
  EXPECT_TRUE(std::isfinite(absorbed) && std::isfinite(masked));
}

}  // namespace
}  // namespace loftbeat::advise
