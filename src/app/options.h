#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/card_command.h"
#include "app/endings.h"
#include "app/export_command.h"
#include "app/history_command.h"
#include "app/hymns_command.h"
#include "app/learn_command.h"
#include "app/listen_command.h"
#include "app/plan_command.h"
#include "app/sound_order.h"
#include "base/base.h"
#include "plan/plan.h"

namespace loftbeat::app {

// `loftbeat review`, understood. Either `plan_path` names a plan file, or it is empty and `plan`
// holds what the options say.
struct ReviewOrder {
  std::string plan_path;
  plan::Plan plan;
  std::string take_path;
  std::string json_path;    // empty: not wanted; "-": standard output
  std::string page_path;    // the same
  std::string player_path;  // the player file to learn into; empty: none
};

// A command line read: an order, or what to print and how to end.
struct Invocation {
  std::optional<ReviewOrder> order;
  std::optional<SoundOrder> sound;
  std::optional<PlanOrder> plan;
  std::optional<CardOrder> card;
  std::optional<ListenOrder> listen;
  std::optional<HistoryOrder> history;
  std::optional<LearnOrder> learn;
  std::optional<HymnsOrder> hymns;
  std::optional<ExportOrder> export_score;
  bool devices = false;  // list them
  int code = kReviewed;
  std::string output;  // for standard output (--help, --version)
  std::string errors;  // for standard error
};

// `words` are the arguments without the program's name.
[[nodiscard]] Invocation read_command_line(const std::vector<std::string>& words);

}  // namespace loftbeat::app
