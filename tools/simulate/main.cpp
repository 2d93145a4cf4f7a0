#include <algorithm>
#include <cstdio>
#include <string>

#include "music/read.h"
#include "options.h"
#include "plan/route.h"
#include "simulate/perform.h"
#include "simulate/truth_json.h"
#include "take/smf_take.h"

namespace {

using namespace loftbeat;

int tell(const Error& error) {
  std::fprintf(stderr, "loftbeat-simulate: %s\n", to_string(error).c_str());
  return error.kind == ErrorKind::wrong_use ? 2 : 3;
}

Error beyond(const simulate::Fault& fault, const plan::Route& route) {
  return {ErrorKind::wrong_use,
          "fault " + to_string(fault.kind) + " names pass " + std::to_string(fault.pass) +
              ", but the route has " + std::to_string(route.passes.size()) + ".",
          "",
          0,
          0,
          "Count passes from 0, the play-over among them."};
}

int run(simulate::Options options) {
  auto score = music::read_score(options.plan.score_path);
  if (!score) return tell(score.error());
  if (!options.plan.verses) options.plan.verses = std::max(1, score->score.lyric_verses);
  if (options.plan.play_over.kind == plan::PlayOverKind::automatic) {
    options.plan.play_over.kind = plan::PlayOverKind::whole;
  }
  auto route = plan::make_route(options.plan, score->score);
  if (!route) return tell(route.error());
  for (const simulate::Fault& fault : options.player.faults) {
    if (fault.pass >= static_cast<int>(route->passes.size())) return tell(beyond(fault, *route));
  }
  const simulate::Performance performance =
      simulate::perform({score->score, options.plan, *route}, options.player, options.seed);
  if (Status done = write_file(options.take_path, take::format_take(performance.take)); !done) {
    return tell(done.error());
  }
  const std::string truth = simulate::format_truth(performance.truth, score->score);
  if (Status done = write_file(options.truth_path, truth); !done) return tell(done.error());
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  simulate::Asked asked = simulate::read_options(argc, argv);
  if (!asked.options) return asked.exit_code;
  return run(std::move(*asked.options));
}
