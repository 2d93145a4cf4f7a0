// What one played note costs the live follower, against the same note in a whole take's walk.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

#include "bench/long_take.h"
#include "follow/heard.h"
#include "follow/live_follower.h"
#include "follow/walk.h"
#include "take/hygiene.h"
#include "take/smf_take.h"

namespace {

using Clock = std::chrono::steady_clock;
using namespace loftbeat;

double microseconds(Clock::duration span) {
  return std::chrono::duration<double, std::micro>(span).count();
}

// Every note by itself, with the keys let go in between.
std::vector<double> each_note(follow::LiveFollower& follower, const take::CleanTake& take) {
  std::vector<double> costs;
  std::vector<std::size_t> by_release(take.notes.size());
  for (std::size_t i = 0; i < by_release.size(); ++i) by_release[i] = i;
  std::sort(by_release.begin(), by_release.end(),
            [&](std::size_t a, std::size_t b) { return take.notes[a].off < take.notes[b].off; });
  std::size_t released = 0;
  for (const take::TakenNote& note : take.notes) {
    const auto begin = Clock::now();
    for (; take.notes[by_release[released]].off <= note.on; ++released)
      follower.note_off(take.notes[by_release[released]].off,
                        take.notes[by_release[released]].pitch);
    follower.note_on(note.on, note.pitch);
    costs.push_back(microseconds(Clock::now() - begin));
  }
  return costs;
}

}  // namespace

int main() {
  const bench::LongPiece played = bench::long_piece(60);
  const auto take = take::parse_take(bench::long_take(played), "long.mid");
  if (!take) return 1;
  const take::CleanTake clean = take::clean(*take);
  const double quarters = played.plan.tempo_bpm *
                          static_cast<double>(plan::ticks(played.plan.beat)) /
                          static_cast<double>(kTicksPerQuarter);
  follow::LiveFollower follower(played.score, played.route, quarters);
  std::vector<double> costs = each_note(follower, clean);
  const auto begin = Clock::now();
  const follow::OnsetTable table(played.score, played.score.phrases);
  const follow::Lattice lattice(table, {{0},
                                        follow::planned_links(table, played.route),
                                        60e9 / quarters / static_cast<double>(kTicksPerQuarter)});
  const auto notes = follow::hear_notes(clean, Nanoseconds{5'000'000'000});
  const auto way = follow::walk(lattice, notes);
  const double walk = microseconds(Clock::now() - begin) / static_cast<double>(way.size());
  std::sort(costs.begin(), costs.end());
  const double middle = costs[costs.size() / 2];
  std::printf(
      "live follower, %zu notes: %.1f us a note (median), %.1f (99 %%), %.1f (most); "
      "%.1f times the walk of the whole take (%.1f us a note)\n",
      costs.size(), middle, costs[costs.size() * 99 / 100], costs.back(), middle / walk, walk);
}
