#include "suite.h"

#include <algorithm>
#include <sstream>
#include <utility>

#include "simulate/truth_alignment.h"
#include "take/hygiene.h"

namespace loftbeat::model_players {

namespace {

using practice::FindingKind;
using simulate::FaultKind;

// The console of the model players: a division for each channel, and pistons that send what their
// piston sends (simulate/player.h: controllers 80 to 83 of channel 16).
organ::Organ model_organ() {
  organ::Organ organ;
  for (int channel = 1; channel <= 4; ++channel) {
    organ::Division division;
    division.name = "Division " + std::to_string(channel);
    division.lowest_key = 0;
    division.highest_key = 127;
    division.channel = channel;
    organ.divisions.push_back(division);
    organ::Stop stop;
    stop.name = "Stop";
    stop.division = organ.divisions.size() - 1;
    organ.stops.push_back(stop);
  }
  for (int controller = 80; controller < 84; ++controller) {
    organ::Piston piston;
    piston.name = "General " + std::to_string(controller - 79);
    piston.stops = {static_cast<std::size_t>(controller - 80)};
    piston.midi.kind = organ::MidiMapping::Kind::control;
    piston.midi.channel = 16;
    piston.midi.number = controller;
    organ.pistons.push_back(piston);
  }
  return organ;
}

void judge_stops(practice::Review& review, const take::Take& raw) {
  static const organ::Organ organ = model_organ();
  static const advise::ConsoleMap console = advise::lay_out(organ);
  practice::judge_stops(review, raw, console);
}

Reviewed by_truth(const simulate::ModelCase& model, simulate::ModelTake taken) {
  Reviewed out;
  practice::Review& review = out.review;
  review.plan = model.plan;
  review.route = std::move(taken.route);
  review.score = model.score;
  review.take = take::clean(taken.performance.take);
  review.alignment =
      simulate::truth_alignment({review.score, review.route, taken.performance.truth, review.take});
  practice::judge(review);
  judge_stops(review, taken.performance.take);
  return out;
}

Reviewed by_following(const simulate::ModelCase& model, const simulate::ModelTake& taken) {
  Reviewed out;
  auto review = practice::review(model.plan, {model.score, {}}, taken.performance.take, model.name);
  if (!review) {
    out.error = to_string(review.error());
    return out;
  }
  out.review = std::move(review).value();
  judge_stops(out.review, taken.performance.take);
  return out;
}

std::string case_text(const simulate::ModelCase& model, const Reviewed& reviewed) {
  std::ostringstream text;
  const music::Bar& bar = model.score.bars.back();
  text << "seed " << model.seed << " (" << bar.beats << "/" << bar.beat_type << ", "
       << model.plan.tempo_bpm << " a minute): "
       << (reviewed.error.empty() ? findings_text(reviewed.review) : reviewed.error);
  return text.str();
}

}  // namespace

Reviewed review_of(const simulate::ModelCase& model, Follower follower) {
  auto taken = simulate::play(model);
  if (!taken) return {{}, to_string(taken.error())};
  return follower == Follower::truth ? by_truth(model, std::move(taken).value())
                                     : by_following(model, *taken);
}

std::string findings_text(const practice::Review& review) {
  std::string text;
  for (const practice::Finding& finding : review.findings) text += finding.sentence + " ";
  return text.empty() ? "no finding" : text;
}

bool names_fault(const practice::Finding& finding, FaultKind fault) {
  const FindingKind kind = finding.kind;
  switch (fault) {
    case FaultKind::count_slip: return kind == FindingKind::join_miscounted;
    case FaultKind::phase_slip:
      return kind == FindingKind::join_early || kind == FindingKind::join_late;
    case FaultKind::late_feet: return kind == FindingKind::feet_late;
    case FaultKind::smear: return kind == FindingKind::smear;
    case FaultKind::slowing: return kind == FindingKind::play_over_slowing;
    case FaultKind::hesitation: return kind == FindingKind::hesitation;
    default: return false;
  }
}

std::string Rate::text() const {
  std::ostringstream out;
  out << good << " of " << all;
  for (const std::string& other : others) out << "\n  " << other;
  return out.str();
}

Rate without_finding(Seeds seeds, Follower follower) {
  Rate rate;
  for (std::uint64_t seed = seeds.begin; seed < seeds.end; ++seed) {
    const simulate::ModelCase model = simulate::model_player(seed);
    const Reviewed reviewed = review_of(model, follower);
    const auto& stops = reviewed.review.stops;
    const bool clean = stops.known && !stops.moves.empty() &&
                       std::all_of(stops.moves.begin(), stops.moves.end(), [](const auto& move) {
                         return move.verdict && *move.verdict == advise::StopVerdict::clean;
                       });
    const bool good = reviewed.error.empty() && reviewed.review.findings.empty() && clean;
    rate.good += good ? 1 : 0;
    ++rate.all;
    if (!good) rate.others.push_back(case_text(model, reviewed));
  }
  return rate;
}

Rate named_alone(FaultKind fault, Seeds seeds, Follower follower) {
  Rate rate;
  for (std::uint64_t seed = seeds.begin; seed < seeds.end; ++seed) {
    const simulate::ModelCase model = simulate::model_player_with(fault, seed);
    const Reviewed reviewed = review_of(model, follower);
    const auto& findings = reviewed.review.findings;
    const bool good =
        !findings.empty() && std::all_of(findings.begin(), findings.end(),
                                         [fault](const auto& f) { return names_fault(f, fault); });
    rate.good += good ? 1 : 0;
    ++rate.all;
    if (!good) rate.others.push_back(case_text(model, reviewed));
  }
  return rate;
}

}  // namespace loftbeat::model_players
