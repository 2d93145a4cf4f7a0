#include "voice/instrument.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "pipes/pipe_spectrum.h"
#include "small_organ.h"
#include "voice/perform_chord.h"

namespace loftbeat::voice {
namespace {

InstrumentOrder dry_order(const organ::Organ& organ) {
  InstrumentOrder order;
  order.organ = &organ;
  order.recipes = &recipes();
  order.soundfont = kSoundFont;
  return order;
}

std::vector<float> sound_of(const organ::Organ& organ, const Performance& performance,
                            std::size_t frames) {
  auto player = make_player(dry_order(organ));
  EXPECT_TRUE(player.ok()) << to_string(player.error());
  if (!player) return {};
  (*player)->play(performance.events);
  std::vector<float> left(frames);
  std::vector<float> right(frames);
  (*player)->render(left.data(), right.data(), frames);
  EXPECT_EQ(left, right);
  return left;
}

double rms_db(const std::vector<float>& samples, std::size_t begin, std::size_t end) {
  double sum = 1e-30;
  for (std::size_t i = begin; i < end; ++i)
    sum += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
  return 10 * std::log10(sum / static_cast<double>(end - begin));
}

TEST(Instrument, SaysWhichStopHasNoPipes) {
  organ::Organ organ = small_organ();
  organ.stops[0].rank = "principle-8";
  const auto player = make_player(dry_order(organ));
  ASSERT_FALSE(player.ok());
  EXPECT_EQ(player.error().kind, ErrorKind::no_fit);
  const std::string text = to_string(player.error());
  EXPECT_NE(text.find("Great Open Diapason 8"), std::string::npos) << text;
  EXPECT_NE(text.find("principal-8"), std::string::npos) << text;
  organ.stops[0].rank = "principal-2-2-3";
  const auto odd = make_player(dry_order(organ));
  ASSERT_FALSE(odd.ok());
  EXPECT_NE(to_string(odd.error()).find("octaves apart"), std::string::npos);
}

// What FluidSynth adds of its own is taken off, no more and no less: one pipe comes out with the
// very power that its recipe reckons, at the root of its zone and beside it.
TEST(Instrument, OnePipeComesOutWithItsPower) {
  const organ::Organ organ = small_organ();
  for (const char* name : {"Great Open Diapason 8", "Great Principal 4"}) {
    const organ::Registration stops = drawn(organ, {name});
    const organ::Stop& stop = organ.stops[stops.stops.front()];
    const pipes::Rank& rank = *recipes().find(stop.rank);
    for (const int key : {48, 49, 60, 61}) {
      const auto chord = perform_chord(organ, stops, std::to_string(key), 4);
      ASSERT_TRUE(chord.ok()) << to_string(chord.error());
      const double level = rms_db(sound_of(organ, *chord, 192'000), 48'000, 192'000);
      const pipes::SteadySound sound = pipes::steady_sound(rank, pipes::zone_of(key));
      double power = sound.noise_power;
      for (const pipes::SteadySound::Line& line : sound.lines) power += line.power;
      EXPECT_NEAR(level, 10 * std::log10(power) + dry_gain_db(organ, stop), 0.05)
          << name << " key " << key;
    }
  }
}

// A 4' stop on an 8' rank is that rank an octave higher.
TEST(Instrument, ABorrowedRankSoundsAnOctaveOff) {
  organ::Organ organ = small_organ();
  organ.stops[1].rank = "principal-8";
  organ.stops[1].power_db = 0;
  const auto low = perform_chord(organ, drawn(organ, {"Great Open Diapason 8"}), "C5", 0.5);
  const auto high = perform_chord(organ, drawn(organ, {"Great Principal 4"}), "C4", 0.5);
  ASSERT_TRUE(low.ok() && high.ok());
  EXPECT_EQ(sound_of(organ, *low, 24'000), sound_of(organ, *high, 24'000));
}

TEST(Instrument, AStopDrawnUnderAHeldChordIsHeardAndPushedInItIsGone) {
  const organ::Organ organ = small_organ();
  auto chord = perform_chord(organ, drawn(organ, {"Great Open Diapason 8"}), "C4 E4 G4", 3);
  ASSERT_TRUE(chord.ok());
  chord->events.insert(chord->events.end() - 3, {48'000, rt::Act::draw_stop, 0, 1, 0});
  chord->events.insert(chord->events.end() - 3, {96'000, rt::Act::push_in_stop, 0, 1, 0});
  const std::vector<float> sound = sound_of(organ, *chord, 144'000);
  const double before = rms_db(sound, 24'000, 48'000);
  const double with = rms_db(sound, 72'000, 96'000);
  const double after = rms_db(sound, 120'000, 144'000);
  EXPECT_GT(with, before + 0.7);
  EXPECT_NEAR(after, before, 0.2);
}

// Organ pipes sound alike for as long as the key is down: nothing jumps. Windows of 50 ms, as a
// chord is held for half a minute.
TEST(Instrument, AHeldChordDoesNotJump) {
  const organ::Organ organ = small_organ();
  const auto chord = perform_chord(
      organ, drawn(organ, {"Great Open Diapason 8", "Great Principal 4", "Pedal Bourdon 16"}),
      "C4 E4 G4 C5 + C2", 10);
  ASSERT_TRUE(chord.ok());
  const std::vector<float> sound = sound_of(organ, *chord, 480'000);
  constexpr std::size_t kWindow = 2400;
  double lowest = 100;
  double highest = -200;
  for (std::size_t at = 48'000; at + kWindow <= sound.size(); at += kWindow) {
    const double level = rms_db(sound, at, at + kWindow);
    lowest = std::min(lowest, level);
    highest = std::max(highest, level);
  }
  EXPECT_LT(highest - lowest, 6.0);
}

// Playing that begins in the middle of a held chord (a seek) rises no faster than the quiet start.
TEST(Instrument, ASeekIntoAHeldChordDoesNotJump) {
  const organ::Organ organ = small_organ();
  const auto chord = perform_chord(
      organ, drawn(organ, {"Great Open Diapason 8", "Great Principal 4"}), "C4 E4 G4 C5", 8);
  ASSERT_TRUE(chord.ok());
  const Performance late = from_frame(*chord, 192'000);
  InstrumentOrder order = dry_order(organ);
  order.quiet_start_db = 30;
  auto player = make_player(order);
  ASSERT_TRUE(player.ok()) << to_string(player.error());
  (*player)->play(late.events);
  std::vector<float> left(144'000);
  std::vector<float> right(left.size());
  (*player)->render(left.data(), right.data(), left.size());
  constexpr std::size_t kWindow = 2400;
  const double loud = rms_db(left, 120'000, 144'000);
  double before = loud - 30;  // the pipes speak at 30 dB under what they come to
  for (std::size_t at = 0; at + kWindow <= left.size(); at += kWindow) {
    const double level = rms_db(left, at, at + kWindow);
    EXPECT_LT(level, before + 6) << at;
    before = std::max(level, loud - 30);
  }
}

TEST(Instrument, AShutBoxWeakensTheSwellAlone) {
  const organ::Organ organ = small_organ();
  organ::Registration open = drawn(organ, {"Swell Stopped Flute 8"});
  organ::Registration shut = open;
  shut.swell[1] = 0;
  const auto loud = perform_chord(organ, open, "C4", 1.5);
  const auto soft = perform_chord(organ, shut, "C4", 1.5);
  ASSERT_TRUE(loud.ok() && soft.ok());
  const double difference = rms_db(sound_of(organ, *soft, 72'000), 48'000, 72'000) -
                            rms_db(sound_of(organ, *loud, 72'000), 48'000, 72'000);
  // The default box: -12 dB, and next to nothing of the low-pass at 262 Hz.
  EXPECT_NEAR(difference, -12, 0.5);
}

TEST(Instrument, FullOrganWithTwelveKeysStealsNoVoice) {
  const organ::Organ organ = small_organ();
  EXPECT_GE(polyphony_for(organ), 12 * 4);
  organ::Organ large = organ;
  for (int i = 0; i < 36; ++i) large.stops.push_back(large.stops[static_cast<std::size_t>(i % 3)]);
  EXPECT_GE(polyphony_for(large), 12 * 40 * 2);
}

}  // namespace
}  // namespace loftbeat::voice
