// How long it takes to name a tune by its first line among 300 and among 600 hymns, and to write
// and read their index.

#include <algorithm>
#include <cstdio>
#include <vector>

#include "cpu_time.h"
#include "practice/hymn_index.h"
#include "practice/tune_search.h"
#include "simulate/invented_hymn.h"

namespace {

using namespace loftbeat;

std::vector<practice::Hymn> hymns_by_chance(std::size_t count) {
  std::vector<practice::Hymn> hymns;
  for (std::uint64_t seed = 1; hymns.size() < count; ++seed) {
    const music::Score score = simulate::invented_hymn(simulate::invented_shape(seed), seed);
    hymns.push_back(practice::hymn_of(score, "hymn" + std::to_string(seed)));
  }
  return hymns;
}

// The first notes of a tune, a third higher and in an uneven time.
std::vector<practice::HeardNote> played(const practice::TuneOutline& tune, std::size_t notes) {
  std::vector<practice::HeardNote> heard;
  for (std::size_t i = 0; i < std::min(notes, tune.notes.size()); ++i) {
    const double wander = 0.02 * static_cast<double>(i % 3);
    heard.push_back({quarters(tune.notes[i].onset) * 0.55 + wander, tune.notes[i].pitch + 4});
  }
  return heard;
}

// Milliseconds for one query, the middle of all.
double query_ms(const std::vector<practice::Hymn>& hymns, std::size_t tunes, std::size_t notes) {
  std::vector<const practice::TuneOutline*> outlines;
  for (std::size_t i = 0; i < tunes; ++i) outlines.push_back(&hymns[i].outline);
  std::vector<double> times;
  for (std::size_t i = 0; i < tunes; i += 6) {
    const auto heard = played(hymns[i].outline, notes);
    const double begin = bench::cpu_seconds();
    const auto matches = practice::find_tune(heard, outlines);
    times.push_back(bench::cpu_seconds() - begin);
    if (matches.empty()) std::printf("hymns: nothing was found\n");
  }
  std::nth_element(times.begin(), times.begin() + static_cast<std::ptrdiff_t>(times.size() / 2),
                   times.end());
  return 1000 * times[times.size() / 2];
}

}  // namespace

int main() {
  const std::vector<practice::Hymn> hymns = hymns_by_chance(600);
  const double line = query_ms(hymns, 300, 10);
  const double most = query_ms(hymns, 300, practice::kMostHeardNotes);
  const double twice = query_ms(hymns, 600, 10);
  std::printf(
      "hymns: a line of 10 notes named among 300 in %.1f ms (50 promised), of %zu notes in %.1f "
      "ms; "
      "among 600 it takes %.2f times as long\n",
      line, practice::kMostHeardNotes, most, twice / line);
  practice::HymnIndex index;
  index.folder = "/scores";
  for (const practice::Hymn& hymn : hymns) index.files.push_back({hymn.where, 1, 1, {hymn}, {}});
  std::sort(index.files.begin(), index.files.end(),
            [](const auto& a, const auto& b) { return a.path < b.path; });
  const double begin = bench::cpu_seconds();
  const std::string text = practice::format_hymn_index(index);
  const bool same = practice::parse_hymn_index(text, "index").ok();
  std::printf("hymns: an index of 600 (%zu KB) written and read in %.1f ms%s\n", text.size() / 1024,
              1000 * (bench::cpu_seconds() - begin), same ? "" : ", but not understood");
  return same ? 0 : 1;
}
