#include <cstdio>
#include <exception>
#include <new>
#include <string>
#include <vector>

#include "app/card_command.h"
#include "app/devices_command.h"
#include "app/export_command.h"
#include "app/history_command.h"
#include "app/hymns_command.h"
#include "app/learn_command.h"
#include "app/listen_command.h"
#include "app/measure_command.h"
#include "app/options.h"
#include "app/plan_command.h"
#include "app/review_command.h"
#include "app/sound_command.h"

namespace {

int run(const std::vector<std::string>& words) {
  using namespace loftbeat;
  const app::Invocation invocation = app::read_command_line(words);
  std::fputs(invocation.errors.c_str(), stderr);
  std::fputs(invocation.output.c_str(), stdout);
  if (invocation.sound) {
    const bool measure = invocation.sound->what == app::SoundOrder::What::measure;
    return measure ? app::run_measure(*invocation.sound) : app::run_sound(*invocation.sound);
  }
  if (invocation.plan) return app::run_plan(*invocation.plan);
  if (invocation.card) return app::run_card(*invocation.card);
  if (invocation.listen) return app::run_listen(*invocation.listen);
  if (invocation.history) return app::run_history(*invocation.history);
  if (invocation.hymns) return app::run_hymns(*invocation.hymns);
  if (invocation.export_score) return app::run_export(*invocation.export_score);
  if (invocation.learn) return app::run_learn(*invocation.learn);
  if (invocation.devices) return app::run_devices();
  if (!invocation.order) return invocation.code;
  return app::run_review(*invocation.order);
}

int give_up(const char* why) {
  std::fprintf(stderr, "loftbeat: %s\n", why);
  return loftbeat::app::kFailed;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(std::vector<std::string>(argv + (argc > 0 ? 1 : 0), argv + argc));
  } catch (const std::bad_alloc&) {
    return give_up("there is not enough memory for this.");
  } catch (const std::exception& error) {
    return give_up(error.what());
  }
}
