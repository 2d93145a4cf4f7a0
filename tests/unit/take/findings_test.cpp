#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "performance.h"

namespace loftbeat::take {
namespace {

class Random {
 public:
  explicit Random(std::uint32_t seed) : engine_(seed) {}
  // The library's distribution wants a positive spread; none at all is what a steady player has.
  double normal(double sd) { return sd * std::normal_distribution<double>(0, 1)(engine_); }
  int below(int limit) { return std::uniform_int_distribution<int>(0, limit - 1)(engine_); }

 private:
  std::mt19937 engine_;
};

// `beats` four-part chords at 80 to the minute, the bass on channel 2, late by `lag`.
void play_hymn(Performance& p, Random& random, int beats, double lag, double jitter, int hands = 0,
               int feet = 2) {
  for (int i = 0; i < beats; ++i) {
    const double at = 1000 + 750.0 * i;
    const int keys[] = {67 + random.below(8), 62 + random.below(4), 55 + random.below(5)};
    for (const int key : keys) {
      const double on = at + random.normal(jitter);
      p.key(on, on + 700 + random.normal(jitter), key, hands, 50 + random.below(40));
    }
    const double on = at + lag + random.normal(jitter);
    p.key(on, on + 690 + random.normal(jitter), 36 + random.below(18), feet, 64);
  }
}

TEST(Loops, OnAnotherChannelAreLeftOut) {
  for (const double delay : {12.0, 25.0, 50.0}) {
    Random random(1);
    Performance dry;
    play_hymn(dry, random, 40, 20, 15);
    const CleanTake alone = dry.clean();
    Take looped = dry.take();
    for (const Event& event : dry.take().events) {
      if (event.channel != 0) continue;
      looped.events.push_back(event);
      looped.events.back().channel = 7;
      looped.events.back().at += span_from_seconds(delay * 1e-3 + random.normal(0.3e-3));
    }
    std::stable_sort(looped.events.begin(), looped.events.end(),
                     [](const Event& a, const Event& b) { return a.at < b.at; });
    const CleanTake take = clean(looped);
    EXPECT_EQ(take.notes.size(), alone.notes.size()) << delay;
    EXPECT_TRUE(tells(take, "Channel 8: the late copy"));
  }
}

TEST(Loops, OnTheSameChannelAreLeftOut) {
  Random random(2);
  Performance p;
  for (int i = 0; i < 40; ++i) {
    const double on = 400.0 * i + random.normal(20) + 100;
    const int key = 48 + random.below(30);
    p.key(on, on + 350, key, 0, 70);
    p.key(on + 22, on + 372, key, 0, 70);
  }
  const CleanTake take = p.clean();
  EXPECT_EQ(take.notes.size(), 40u);
  EXPECT_TRUE(tells(take, "40 keys came twice"));
  for (const TakenNote& note : take.notes) EXPECT_GE(milliseconds(note.off - note.on), 350);
}

TEST(Loops, AreNotSeenInFeetThatDoubleTheBass) {
  Random random(3);
  Performance p;
  for (int i = 0; i < 60; ++i) {
    const double at = 1000 + 600.0 * i;
    const int bass = 40 + random.below(12);
    const double hand = at + random.normal(12);
    const double foot = at + 30 + random.normal(12);
    p.key(hand, hand + 550 + random.normal(25), bass, 0, 64);
    p.key(foot, foot + 530 + random.normal(25), bass, 2, 64);
  }
  EXPECT_FALSE(tells(p.clean(), "the late copy"));
}

TEST(Loops, AreNotSeenInOneVoiceAgainstAWholeChord) {
  // Feet late by exactly 30 ms, as a machine would have it; but they play the bass alone.
  Random random(4);
  Performance p;
  for (int i = 0; i < 40; ++i) {
    const double at = 1000 + 600.0 * i;
    const int bass = 40 + random.below(12);
    p.key(at, at + 550, bass, 0).key(at, at + 550, 60 + random.below(9), 0);
    p.key(at + 30, at + 580, bass, 2);
  }
  const CleanTake take = p.clean();
  EXPECT_EQ(take.notes.size(), 120u);
}

TEST(Accompaniment, IsLeftOutWithItsDrums) {
  Random random(5);
  Performance p;
  play_hymn(p, random, 64, 10, 20);
  for (int i = 0; i < 128; ++i) {
    const double at = 900 + 375.0 * i;
    p.key(at, at + 60, i % 2 ? 42 : 36, 9, 100);
    if (i % 2 == 0) p.key(at, at + 700, 48 + (i / 8) % 5, 11, 80);
  }
  const CleanTake take = p.clean();
  EXPECT_EQ(take.notes.size(), 256u);
  EXPECT_TRUE(tells(take, "Channels 10, 12: drums or automatic accompaniment"));
}

TEST(Accompaniment, IsNotSeenInAVeryRegularPlayer) {
  // Without drums nobody is a machine: pedal exactly on the beat, hands spread.
  Random random(6);
  Performance p;
  for (int i = 0; i < 64; ++i) {
    const double at = 1000 + 600.0 * i;
    p.key(at, at + 580, 36 + i % 12, 2);
    p.key(at + random.below(60), at + 580, 60 + i % 7, 0);
  }
  EXPECT_EQ(p.clean().notes.size(), 128u);
}

TEST(Accompaniment, IsNotSeenInAnOrganOnChannelTen) {
  Random random(7);
  Performance p;
  play_hymn(p, random, 30, 10, 15, 0, 9);
  EXPECT_EQ(p.clean().notes.size(), 120u);
  Performance alone;
  for (int i = 0; i < 30; ++i) alone.key(500.0 * i, 500.0 * i + 100, 60, 9);
  EXPECT_EQ(alone.clean().notes.size(), 30u) << "nothing else is there";
}

TEST(PedalDivision, IsTheLowChannelThatPlaysAlone) {
  Random random(8);
  Performance p;
  play_hymn(p, random, 30, 25, 15);
  EXPECT_EQ(p.clean().pedal_channels, 1u << 2);
}

TEST(PedalDivision, IsNotALeftHandOfChords) {
  Random random(9);
  Performance p;
  for (int i = 0; i < 30; ++i) {
    const double at = 600.0 * i;
    p.key(at, at + 550, 70, 0).key(at, at + 550, 48, 1).key(at, at + 550, 55, 1);
  }
  EXPECT_EQ(p.clean().pedal_channels, 0u);
}

TEST(PedalDivision, IsNotAMiddleVoice) {
  Performance p;
  for (int i = 0; i < 30; ++i) {
    const double at = 600.0 * i;
    p.key(at, at + 550, 72, 0).key(at, at + 550, 60, 1).key(at, at + 550, 40, 2);
  }
  EXPECT_EQ(p.clean().pedal_channels, 1u << 2);
}

TEST(PedalDivision, NeedsHandsBesideIt) {
  Performance p;
  for (int i = 0; i < 30; ++i) p.key(600.0 * i, 600.0 * i + 550, 40 + i % 12, 2);
  EXPECT_EQ(p.clean().pedal_channels, 0u) << "pedal practice alone cannot be told from a hand";
}

CleanTake delivered_every(double step, double jitter) {
  Random random(10);
  Performance p;
  play_hymn(p, random, 120, 20, 25);
  Take take = p.take();
  for (Event& event : take.events) {
    const double t = milliseconds(event.at.time_since_epoch());
    event.at = ms(std::ceil(t / step) * step + std::abs(random.normal(jitter)));
  }
  std::stable_sort(take.events.begin(), take.events.end(),
                   [](const Event& a, const Event& b) { return a.at < b.at; });
  return clean(take);
}

TEST(Stamps, ShowTheLatticeTheyLieOn) {
  EXPECT_EQ(milliseconds(delivered_every(1, 0).stamp_uncertainty), 0.5);
  EXPECT_EQ(milliseconds(delivered_every(11.25, 0.2).stamp_uncertainty), 5.625);
  EXPECT_EQ(milliseconds(delivered_every(15, 0.3).stamp_uncertainty), 7.5);
  EXPECT_TRUE(tells(delivered_every(15, 0.3), "delivered in bunches"));
}

TEST(Stamps, AreFineIfTheyShowNone) {
  EXPECT_EQ(delivered_every(0.001, 0).stamp_uncertainty.count(), 0);
}

TEST(Stamps, OfAMachineAreNoLattice) {
  Performance p;
  for (int i = 0; i < 200; ++i) p.key(250.0 * i, 250.0 * i + 237.5, 60 + i % 12);
  EXPECT_EQ(p.clean().stamp_uncertainty.count(), 0);
}

TEST(Stamps, TakeTheFilesTickIntoAccount) {
  Take take = Performance().key(0, 100, 60).take();
  take.stamp_step = std::chrono::milliseconds(4);
  EXPECT_EQ(clean(take).stamp_uncertainty, std::chrono::milliseconds(2));
  take.stamp_step = std::chrono::microseconds(20);
  EXPECT_EQ(clean(take).stamp_uncertainty.count(), 0);
}

void expect_same_notes(const CleanTake& a, const CleanTake& b, Nanoseconds later) {
  ASSERT_EQ(a.notes.size(), b.notes.size());
  for (std::size_t i = 0; i < a.notes.size(); ++i) {
    EXPECT_EQ(a.notes[i].on + later, b.notes[i].on);
    EXPECT_EQ(a.notes[i].off + later, b.notes[i].off);
    EXPECT_EQ(a.notes[i].sound_off + later, b.notes[i].sound_off);
    EXPECT_EQ(a.notes[i].pitch, b.notes[i].pitch);
    EXPECT_EQ(a.notes[i].velocity, b.notes[i].velocity);
  }
}

// Laws: a later start, or divisions on channels of their own, change no note.
TEST(Hygiene, DoesNotHangOnTheStartOrOnChannels) {
  for (std::uint32_t seed = 0; seed < 30; ++seed) {
    Random random(seed);
    Performance p;
    play_hymn(p, random, 30, 20, 20, 0, 0);
    const Take one = p.take();
    Take later = one;
    const Nanoseconds offset = span_from_seconds(0.001 * random.below(100'000));
    Take split = one;
    for (Event& event : later.events) event.at += offset;
    for (Event& event : split.events) event.channel = event.data1 < 55 ? 3 : 1;
    expect_same_notes(clean(one), clean(later), offset);
    expect_same_notes(clean(one), clean(split), Nanoseconds(0));
  }
}

}  // namespace
}  // namespace loftbeat::take
