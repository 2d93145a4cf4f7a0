// Following against alignments made by people who are not of this project.
// Source: Vienna 4x22 Piano Corpus, W. Goebl, doi 10.21939/4X22, CC BY 4.0 (see README.md here).

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <map>

#include "follow/alignment.h"
#include "human_data.h"

namespace loftbeat::test {
namespace {

struct Score {
  int right = 0;
  int wrong = 0;
  int lost = 0;
  int onsets = 0;
  int onsets_near = 0;  // within 25 ms
  [[nodiscard]] double f1() const { return 2.0 * right / (2.0 * right + wrong + lost); }
};

bool same_key(const music::Score& score, int a, int b) {
  if (a < 0 || b < 0) return false;
  const music::Note& x = score.notes[static_cast<std::size_t>(a)];
  const music::Note& y = score.notes[static_cast<std::size_t>(b)];
  return x.onset == y.onset && x.pitch == y.pitch;
}

Score count(const HumanData& data, const follow::Alignment& found) {
  Score score;
  std::map<std::pair<int, Tick>, std::vector<double>> onsets;
  for (std::size_t n = 0; n < data.truth.size(); ++n) {
    const HumanData::True& truth = data.truth[n];
    const follow::NoteMatch& match = found.notes[n];
    const bool right = match.pass == truth.pass && same_key(data.score, match.score, truth.score);
    if (right) ++score.right;
    if (!right && match.score >= 0) ++score.wrong;
    if (!right && truth.score >= 0) ++score.lost;
    if (truth.score >= 0) {
      const Tick tick = data.score.notes[static_cast<std::size_t>(truth.score)].onset;
      onsets[{truth.pass, tick}].push_back(seconds(data.take.notes[n].on));
    }
  }
  for (auto& [place, times] : onsets) {
    ++score.onsets;
    std::sort(times.begin(), times.end());
    const std::size_t half = times.size() / 2;
    const double median =
        times.size() % 2 == 1 ? times[half] : 0.5 * (times[half - 1] + times[half]);
    const auto pass = static_cast<std::size_t>(place.first);
    if (pass >= found.passes.size()) continue;
    for (const follow::StruckOnset& struck : found.passes[pass].onsets) {
      if (struck.tick != place.second) continue;
      if (std::abs(seconds(struck.median) - median) <= 0.025) ++score.onsets_near;
    }
  }
  return score;
}

plan::Route open_route() {
  plan::Route route;
  route.verses_known = false;
  route.play_over_known = false;
  return route;
}

// `tempo`: what the program is told, as a share of the true mean.
Score follow_and_count(const HumanData& data, double tempo, std::size_t passes) {
  const auto found =
      follow::align(data.score, open_route(), tempo * data.quarters_per_minute, data.take);
  EXPECT_TRUE(found.ok()) << to_string(found.error());
  if (!found.ok()) return {};
  EXPECT_EQ(found->passes.size(), passes);
  for (std::size_t p = 0; p + 1 < found->passes.size() && p < data.silences_s.size(); ++p) {
    const double silence =
        seconds(found->passes[p + 1].first_onset - found->passes[p].last_release);
    EXPECT_NEAR(silence, data.silences_s[p], 0.020) << "join after pass " << p;
  }
  return count(data, *found);
}

void report(const std::string& what, const Score& score) {
  std::cout << what << ": note F1 " << score.f1() << ", onsets within 25 ms "
            << 100.0 * score.onsets_near / score.onsets << " % of " << score.onsets << "\n";
}

TEST(HumanPerformances, MozartPlayedByThree) {
  for (double tempo : {0.5, 1.0, 2.0}) {
    const HumanData data = read_human("mozart_k331", {"p01", "p07", "p15"}, 2.5);
    const Score score = follow_and_count(data, tempo, 3);
    report("Mozart, told " + std::to_string(tempo) + " of the tempo", score);
    // The best published offline matcher: note F1 0.995, 99.6 % of beats within 25 ms on the
    // wider corpora it was tried on; ours may not be worse on this one.
    EXPECT_GE(score.f1(), 0.995);
    EXPECT_GE(score.onsets_near, 0.996 * score.onsets);
  }
}

// The last chord of this piece is rolled over two seconds, into the onset after it.
TEST(HumanPerformances, ChopinPlayedByTwo) {
  for (double tempo : {0.5, 1.0, 2.0}) {
    const HumanData data = read_human("chopin_op38", {"p01", "p12"}, 2.5);
    const Score score = follow_and_count(data, tempo, 2);
    report("Chopin, told " + std::to_string(tempo) + " of the tempo", score);
    EXPECT_GE(score.f1(), 0.995);
    EXPECT_GE(score.onsets_near, 0.996 * score.onsets);
  }
}

TEST(HumanPerformances, EachMozartAlone) {
  for (const char* player : {"p01", "p07", "p15"}) {
    const Score score = follow_and_count(read_human("mozart_k331", {player}, 0), 1.0, 1);
    report(std::string("Mozart, ") + player, score);
    EXPECT_GE(score.f1(), 0.995);
    EXPECT_GE(score.onsets_near, 0.996 * score.onsets);
  }
}

}  // namespace
}  // namespace loftbeat::test
