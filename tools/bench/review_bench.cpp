// How long a review takes, by length of the take; and following against plain full dynamic time
// warping on a take that the latter can hold. Figures only, all of them
// processor time of one core: nothing here passes or fails.

#include <benchmark/benchmark.h>

#include "bench/cpu_time.h"
#include "bench/full_dtw.h"
#include "bench/long_take.h"
#include "bench/review_steps.h"
#include "follow/alignment.h"
#include "take/hygiene.h"
#include "take/smf_take.h"

namespace loftbeat::bench {
namespace {

void whole_review(benchmark::State& state) {
  const LongPiece piece = long_piece(static_cast<int>(state.range(0)));
  const std::string file = long_take(piece);
  Reviewed reviewed;
  const double begin = cpu_seconds();
  for (auto _ : state) reviewed = review_steps(piece, file);
  const double each = (cpu_seconds() - begin) / static_cast<double>(state.iterations());
  state.counters["notes"] = static_cast<double>(reviewed.notes);
  state.counters["verses"] = static_cast<double>(reviewed.passes);
  state.counters["ns_per_note"] = each * 1e9 / static_cast<double>(reviewed.notes);
}
BENCHMARK(whole_review)
    ->ArgName("minutes")
    ->Arg(5)
    ->Arg(15)
    ->Arg(60)
    ->Arg(120)
    ->Unit(benchmark::kMillisecond);

// Both work on the same notes of the same take, one after the other in each round.
void following_against_full_dtw(benchmark::State& state) {
  const LongPiece piece = long_piece(static_cast<int>(state.range(0)));
  const Result<take::Take> take = take::parse_take(long_take(piece), "long.mid");
  if (!take) return state.SkipWithError(to_string(take.error()).c_str());
  const take::CleanTake clean = take::clean(*take);
  double following = 0;
  double warping = 0;
  for (auto _ : state) {
    double begin = cpu_seconds();
    const auto alignment = follow::align(piece.score, piece.route, piece.plan.tempo_bpm, clean);
    benchmark::DoNotOptimize(alignment.ok());
    following += cpu_seconds() - begin;
    begin = cpu_seconds();
    const auto path = full_dtw(score_chords(piece.score, piece.route), played_chords(clean));
    benchmark::DoNotOptimize(path.size());
    warping += cpu_seconds() - begin;
  }
  const auto rounds = static_cast<double>(state.iterations());
  state.counters["following_ms"] = 1e3 * following / rounds;
  state.counters["full_dtw_ms"] = 1e3 * warping / rounds;
  state.counters["times_faster"] = warping / following;
}
BENCHMARK(following_against_full_dtw)
    ->ArgName("minutes")
    ->Arg(5)
    ->Arg(15)
    ->Arg(60)
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace loftbeat::bench

BENCHMARK_MAIN();
