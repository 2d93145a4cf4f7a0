#pragma once

// A small plan over the invented console: play-over and three verses of a four-part tune.

#include <memory>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "../advise_hands/consoles.h"
#include "advise/plan_check.h"
#include "advise/plan_sentences.h"

namespace loftbeat::advise {

// Owns what a context points to. `drawn` and `heard` have four entries: a clean plan by default.
struct SmallPlan {
  plan::Plan plan;
  music::Score score = chorale();
  plan::Route route;
  organ::Organ organ = small_console();
  ConsoleMap console;
  std::vector<organ::Registration> drawn;
  std::vector<MeasuredRegistration> heard;
  int people = 60;

  SmallPlan() {
    plan.tempo_bpm = 76;
    plan.join = plan::Join{plan::JoinKind::hold_and_lift, 4, 2, 0};
    plan.play_over.kind = plan::PlayOverKind::whole;
    plan.verses = 3;
    // Great 8 and 4; the Fifteenth comes in verse 2; it stays, and the box opens.
    drawn.assign(4, advise::drawn(organ, {0, 2, 7}));
    drawn[2].stops = drawn[3].stops = {0, 2, 3, 7};
    drawn[0].swell[1] = 0.5;
  }
  SmallPlan(const SmallPlan&) = delete;
  SmallPlan& operator=(const SmallPlan&) = delete;

  // A figure for every pass; sharpness and lead follow from how many stops are drawn.
  void sound_as_drawn() {
    heard.clear();
    for (const organ::Registration& registration : drawn) {
      MeasuredRegistration one;
      one.drawn = registration;
      one.silent = registration.stops.empty();
      one.heard.sone = 40 + 8 * static_cast<double>(registration.stops.size());
      one.heard.sharpness_acum = 1.0 + 0.2 * static_cast<double>(registration.stops.size());
      one.heard.over.singing_sone = 30;
      one.heard.over.lead_sone = 2 + 3 * static_cast<double>(registration.stops.size());
      one.heard.over.exposure_sone = 4;
      heard.push_back(one);
    }
  }

  // Lays the route again, with whatever was changed.
  CheckContext context() {
    const auto laid = plan::make_route(plan, score);
    EXPECT_TRUE(laid.ok()) << to_string(laid.error());
    if (laid) route = *laid;
    console = lay_out(organ);
    return make_check_context(plan, score, route, &console, people);
  }
  PlanCheck check() { return check_plan(context(), drawn, heard); }
};

inline std::vector<PlanFault> faults_of(const std::vector<PlanFinding>& findings) {
  std::vector<PlanFault> faults;
  for (const PlanFinding& finding : findings) {
    if (!is_note(finding.fault)) faults.push_back(finding.fault);
  }
  return faults;
}

inline const PlanFinding* find(const std::vector<PlanFinding>& findings, PlanFault fault) {
  for (const PlanFinding& finding : findings) {
    if (finding.fault == fault) return &finding;
  }
  return nullptr;
}

using Faults = std::vector<PlanFault>;

}  // namespace loftbeat::advise
