#include "base/nearest.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

namespace loftbeat {
namespace {

// The definition written down plainly: the fewest slips, tried one after the other. Exponential,
// so for short words only.
std::size_t slow_distance(std::string_view a, std::string_view b) {
  if (a.empty() || b.empty()) return a.size() + b.size();
  const std::size_t last = a[a.size() - 1] == b[b.size() - 1] ? 0 : 1;
  const auto cut = [](std::string_view s, std::size_t n) { return s.substr(0, s.size() - n); };
  std::size_t best = std::min({slow_distance(cut(a, 1), b) + 1, slow_distance(a, cut(b, 1)) + 1,
                               slow_distance(cut(a, 1), cut(b, 1)) + last});
  if (a.size() > 1 && b.size() > 1 && a[a.size() - 1] == b[b.size() - 2] &&
      a[a.size() - 2] == b[b.size() - 1]) {
    best = std::min(best, slow_distance(cut(a, 2), cut(b, 2)) + 1);
  }
  return best;
}

std::string random_word(std::mt19937& random) {
  std::string word(random() % 6, 'a');
  for (char& c : word) c = static_cast<char>('a' + random() % 3);
  return word;
}

TEST(Nearest, distance_agrees_with_its_definition) {
  std::mt19937 random(1);
  for (int i = 0; i < 400; ++i) {
    const std::string a = random_word(random);
    const std::string b = random_word(random);
    EXPECT_EQ(edit_distance(a, b), slow_distance(a, b)) << a << " " << b;
    EXPECT_EQ(edit_distance(a, b), edit_distance(b, a));
    EXPECT_EQ(edit_distance(a, b) == 0, a == b);
  }
}

// Distances of two textbook pairs: "kitten" to "sitting" is 3 (Levenshtein 1966 is usually
// explained with it), "ca" to "ac" is 1 where swapping neighbours counts once.
TEST(Nearest, textbook_pairs) {
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3U);
  EXPECT_EQ(edit_distance("ca", "ac"), 1U);
  EXPECT_EQ(edit_distance("", "abc"), 3U);
}

TEST(Nearest, names_what_was_meant) {
  const std::vector<std::string> known = {"title", "tempo", "beat", "verses", "play-over"};
  EXPECT_EQ(nearest("tmepo", known), "tempo");
  EXPECT_EQ(nearest("verse", known), "verses");
  EXPECT_EQ(nearest("playover", known), "play-over");
  EXPECT_EQ(nearest("organ", known), "");
  EXPECT_EQ(nearest("xy", known), "");
  EXPECT_EQ(nearest(std::string(100'000, 'a'), known), "");
}

TEST(Nearest, hint_falls_back_to_all_that_is_known) {
  EXPECT_EQ(nearest_hint("tmepo", {"tempo", "beat"}), "Did you mean \"tempo\"?");
  EXPECT_EQ(nearest_hint("organ", {"tempo", "beat"}), "Known here: tempo, beat.");
  EXPECT_EQ(nearest_hint("organ", {}), "");
}

}  // namespace
}  // namespace loftbeat
