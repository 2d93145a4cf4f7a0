#include "app/take_stops.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "app/sound_source.h"
#include "music/read.h"
#include "organ/console.h"
#include "plan/registration.h"
#include "practice/review.h"
#include "voice/voice.h"

namespace loftbeat::app {
namespace {

// A registration is changed in the middle of the silence before a pass, but no longer before its
// first note than this: about as long as a hand that goes back to its keys.
constexpr double kLongestBeforeS = 0.3;

bool moves_stops(const take::Take& take, const organ::Organ& organ) {
  organ::ConsoleReader console(organ);
  return std::any_of(take.events.begin(), take.events.end(), [&](const take::Event& event) {
    const auto moves = console.feed(event);
    return std::any_of(moves.begin(), moves.end(), [](const organ::ConsoleMove& move) {
      return move.what != organ::ConsoleMove::What::swell;
    });
  });
}

plan::RegistrationPlan names_for(const plan::Plan& plan, const follow::AlignedPass& pass) {
  int verse = 0;
  if (pass.kind == plan::PassKind::verse) verse = std::atoi(pass.label.c_str());
  return plan::registration_of(plan, pass.kind, verse);
}

double change_at(const follow::Alignment& alignment, std::size_t pass) {
  const double first = seconds(alignment.passes[pass].first_onset);
  if (pass == 0) return 0;
  const double silence = first - seconds(alignment.passes[pass - 1].last_release);
  return std::max(0.0, first - std::clamp(silence / 2, 0.0, kLongestBeforeS));
}

// The changes that bring each pass what the plan draws for it, beginning from `drawn`.
Result<std::vector<voice::StopChange>> planned_changes(const SoundOrder& order,
                                                       const SoundData& data,
                                                       const follow::Alignment& alignment,
                                                       organ::Registration drawn) {
  std::vector<voice::StopChange> changes;
  for (std::size_t i = 0; i < alignment.passes.size(); ++i) {
    Result<organ::Registration> next =
        registration_for(order, data, names_for(*data.plan, alignment.passes[i]));
    if (!next) return next.error();
    changes.push_back({change_at(alignment, i), organ::moves_between(drawn, *next)});
    drawn = std::move(*next);
  }
  return changes;
}

// Why the plan's registrations are not used pass by pass; empty if they are.
std::string kept_back(const SoundOrder& order, const SoundData& data, const take::Take& take) {
  if (!data.plan || data.plan->score_path.empty() || !order.stops.empty()) return " ";
  if (moves_stops(take, data.organ)) return "the take moves stops itself; the plan's are not used";
  return {};
}

}  // namespace

Result<voice::Performance> sound_of_take(const SoundOrder& order, const SoundData& data,
                                         const take::Take& take) {
  const Result<organ::Registration> drawn =
      registration_for(order, data, data.plan ? data.plan->registration : plan::RegistrationPlan{});
  if (!drawn) return drawn.error();
  Result<voice::Performance> performance = voice::perform(take, data.organ, *drawn);
  if (!performance) return performance;
  const auto note = [&](const std::string& words) {
    performance->notices.push_back({words, "", 0});
  };
  if (const std::string why = kept_back(order, data, take); !why.empty()) {
    if (why != " ") note(why);
    return performance;
  }
  Result<music::ReadScore> score = music::read_score(data.plan->score_path);
  if (!score) return score.error();
  const Result<practice::Review> heard = practice::review(*data.plan, std::move(*score), take, "");
  if (!heard) {
    note("the take is not of the plan's tune, so that one registration holds throughout");
    return performance;
  }
  const auto changes = planned_changes(order, data, heard->alignment, *drawn);
  if (!changes) return changes.error();
  return voice::with_changes(*performance, data.organ, *changes);
}

}  // namespace loftbeat::app
