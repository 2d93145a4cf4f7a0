#include "base/nearest.h"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace loftbeat {
namespace {

constexpr std::size_t kLongestWord = 64;

// The table of distances between all beginnings of two words, row by row.
class Distances {
 public:
  Distances(std::size_t rows, std::size_t columns) : columns_(columns), cells_(rows * columns) {}
  std::size_t& at(std::size_t row, std::size_t column) { return cells_[row * columns_ + column]; }

 private:
  std::size_t columns_;
  std::vector<std::size_t> cells_;
};

bool swapped(std::string_view a, std::string_view b, std::size_t i, std::size_t j) {
  return i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
  Distances d(a.size() + 1, b.size() + 1);
  for (std::size_t i = 0; i <= a.size(); ++i) d.at(i, 0) = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d.at(0, j) = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = d.at(i - 1, j - 1) + (a[i - 1] == b[j - 1] ? 0 : 1);
      d.at(i, j) = std::min({d.at(i - 1, j) + 1, d.at(i, j - 1) + 1, changed});
      if (swapped(a, b, i, j)) d.at(i, j) = std::min(d.at(i, j), d.at(i - 2, j - 2) + 1);
    }
  }
  return d.at(a.size(), b.size());
}

std::string nearest(std::string_view wanted, const std::vector<std::string>& known) {
  std::string best;
  std::size_t best_distance = kLongestWord;
  for (const std::string& word : known) {
    const std::size_t longer = std::max(word.size(), wanted.size());
    if (longer > kLongestWord) continue;
    const std::size_t distance = edit_distance(wanted, word);
    const bool shares_something = distance < longer;
    if (shares_something && distance <= std::max<std::size_t>(2, longer / 3) &&
        distance < best_distance) {
      best = word;
      best_distance = distance;
    }
  }
  return best;
}

std::string nearest_hint(std::string_view wanted, const std::vector<std::string>& known) {
  if (known.empty()) return {};
  const std::string word = nearest(wanted, known);
  if (!word.empty()) return fmt::format("Did you mean \"{}\"?", word);
  return fmt::format("Known here: {}.", fmt::join(known, ", "));
}

}  // namespace loftbeat
