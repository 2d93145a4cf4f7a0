#include "bench/review_steps.h"

#include <cstdio>
#include <cstdlib>

#include "follow/alignment.h"
#include "take/hygiene.h"
#include "take/smf_take.h"
#include "timing/measures.h"

namespace loftbeat::bench {
namespace {

[[noreturn]] void give_up(const Error& error) {
  std::fprintf(stderr, "%s\n", to_string(error).c_str());
  std::exit(EXIT_FAILURE);
}

}  // namespace

Reviewed review_steps(const LongPiece& piece, std::string_view take_file) {
  const Result<take::Take> take = take::parse_take(take_file, "long.mid");
  if (!take) give_up(take.error());
  const take::CleanTake clean = take::clean(*take);
  const Result<follow::Alignment> alignment =
      follow::align(piece.score, piece.route, piece.plan.tempo_bpm, clean);
  if (!alignment) give_up(alignment.error());
  const timing::Timing timing =
      timing::measure({piece.score, piece.plan, piece.route, clean, *alignment});
  return {clean.notes.size(), timing.passes.size(), alignment->matched_share};
}

}  // namespace loftbeat::bench
