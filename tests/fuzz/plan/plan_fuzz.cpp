// Whatever the bytes are: one error or a plan; a plan comes back from its own text; laid over a
// small tune it gives one error or a route whose joins can be drawn.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "plan/read.h"
#include "plan/route.h"

namespace loftbeat::plan {
namespace {

// Four bars of three-four with an upbeat, two phrases.
music::Score tune() {
  constexpr Tick kQ = kTicksPerQuarter;
  music::Score score;
  score.bars.push_back({0, kQ, "0", 3, 4, true});
  for (int bar = 0; bar < 3; ++bar) {
    score.bars.push_back({kQ + 3 * kQ * bar, 3 * kQ, std::to_string(bar + 1), 3, 4, false});
  }
  score.bars.push_back({10 * kQ, 2 * kQ, "4", 3, 4, false});
  for (int beat = 0; beat < 10; ++beat) score.notes.push_back({beat * kQ, kQ, 60 + beat, 0, 0});
  score.notes.push_back({10 * kQ, 2 * kQ, 60, 0, 0});
  score.length = 12 * kQ;
  score.phrases = {{{0, 6 * kQ}}, {{6 * kQ, 12 * kQ}}};
  score.fermatas = {{5 * kQ}, {10 * kQ}};
  score.voices = score.staves = 1;
  return score;
}

void draw_all(const Route& route, const Plan& plan, const music::Score& score) {
  for (const RouteJoin& join : route.joins) {
    if (!join.join) continue;
    if (draw_join(*join.join, score, plan.beat, 10 * kTicksPerQuarter, {0, score.length}, 0)
            .empty()) {
      std::abort();
    }
  }
}

void check(std::string_view text) {
  const auto plan = parse_plan(text, "x.plan.toml");
  if (!plan) {
    if (plan.error().message.empty()) std::abort();
    return;
  }
  const std::string written = format_plan(*plan);
  const auto back = parse_plan(written, "x.plan.toml");
  if (!back || format_plan(*back) != written) std::abort();
  const music::Score score = tune();
  const auto route = make_route(*plan, score);
  if (route) draw_all(*route, *plan, score);
}

}  // namespace
}  // namespace loftbeat::plan

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::plan::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
