#include "simulate/script.h"

#include <algorithm>
#include <cmath>

#include "simulate/act_faults.h"
#include "simulate/random.h"

namespace loftbeat::simulate {

std::vector<TickSpan> phrases_of(const Piece& piece) {
  std::vector<TickSpan> spans;
  const auto& from = piece.route.phrases.empty() ? piece.score.phrases : piece.route.phrases;
  spans.reserve(from.size() + 1);
  for (const music::Phrase& phrase : from) spans.push_back(phrase.span);
  if (spans.empty()) spans.push_back({0, piece.score.length});
  return spans;
}

namespace {

plan::RoutePass whole_tune(const music::Score& score) {
  plan::RoutePass pass;
  pass.label = "1";
  pass.spans = {{0, score.length}};
  pass.textures = {plan::Texture::as_written};
  return pass;
}

bool improvised(plan::PassKind kind) {
  return kind == plan::PassKind::interlude || kind == plan::PassKind::amen;
}

class Writer {
 public:
  Writer(const Piece& piece, const Player& player, std::uint64_t seed)
      : piece_(piece), player_(player), random_(seed, "script") {
    passes_ = piece.route.passes;
    if (passes_.empty()) passes_.push_back(whole_tune(piece.score));
  }

  Script write() {
    for (int run = 1; run <= std::max(1, player_.runs); ++run) {
      run_ = run;
      verse_ = 0;
      for (std::size_t i = 0; i < passes_.size(); ++i) write_pass(static_cast<int>(i));
      script_.acts.back().after.extra_s = player_.between_runs_s;
    }
    return std::move(script_);
  }

 private:
  void write_pass(int index) {
    if (const Fault* missing = find(FaultKind::missing_pass, index)) {
      plant(*missing, next_truth_pass_, kAnywhere);
      return;
    }
    const plan::RoutePass& pass = passes_[static_cast<std::size_t>(index)];
    if (pass.kind == plan::PassKind::verse) ++verse_;
    write_act(index);
    if (const Fault* extra = find(FaultKind::extra_pass, index)) {
      ++verse_;
      plant(*extra, next_truth_pass_, kAnywhere);
      push(bare_act(index, Planned::no));
    }
    if (const Fault* between = find(FaultKind::unwritten_interlude, index)) {
      plant(*between, next_truth_pass_, kAnywhere);
      push(interlude_act(index, between->amount));
    }
  }

  enum class Planned { no, yes };

  Act bare_act(int index, Planned planned) {
    const plan::RoutePass& pass = passes_[static_cast<std::size_t>(index)];
    Act act;
    act.source = index;
    act.planned = planned == Planned::yes;
    act.kind = pass.kind;
    act.label = pass.kind == plan::PassKind::verse ? std::to_string(verse_) : pass.label;
    act.run = run_;
    act.sounds = !pass.unaccompanied;
    act.meant = pass.spans;
    act.textures = pass.textures;
    act.transpose = pass.transpose_semitones;
    act.broaden_from = pass.broaden_from;
    act.broaden_percent = pass.broaden_percent;
    act.tempo_factor = player_.tempo.factor;
    act.drag_percent = player_.tempo.drag_percent;
    act.pedal_lag_ms = player_.onset.pedal_lag_ms;
    act.left_lag_ms = player_.onset.left_hand_lag_ms;
    if (improvised(pass.kind)) act.improvised_beats = improvised_beats(pass.kind);
    if (act.meant.empty() && act.improvised_beats == 0) act.meant = {{0, piece_.score.length}};
    for (const TickSpan& span : act.meant) act.legs.push_back({span});
    change(act);
    act.after = gap_after(index, act);
    return act;
  }

  void change(Act& act) const {
    const auto found = player_.changes.find(act.source);
    if (found == player_.changes.end()) return;
    const PassChange& change = found->second;
    if (change.textures) act.textures = *change.textures;
    if (change.transpose_semitones) act.transpose = *change.transpose_semitones;
    act.only_voices = change.only_voices;
    act.tempo_factor *= change.tempo_factor;
  }

  [[nodiscard]] double improvised_beats(plan::PassKind kind) const {
    if (kind == plan::PassKind::amen) return 4;
    for (const plan::Interlude& interlude : piece_.plan.interludes) {
      if (interlude.after_verse == verse_ && interlude.beats > 0) return interlude.beats;
    }
    return 8;
  }

  // `index`: the route pass after which the join stands.
  [[nodiscard]] Gap gap_after(int index, const Act& act) const {
    Gap gap;
    const auto at = static_cast<std::size_t>(index);
    const auto& joins = piece_.route.joins;
    if (act.improvised_beats == 0 && !joins.empty()) {
      // An extra or last verse is joined as the verse before was.
      const plan::RouteJoin& join = joins[std::min(at, joins.size() - 1)];
      gap.planned = join.join;
      gap.planned_span_beats = join.span_beats;
    }
    gap.span_beats = gap.planned_span_beats.value_or(player_.join.span_beats);
    // The planned span goes on to the next pass of the tune; what is improvised takes its part.
    if (gap.planned_span_beats && at + 1 < passes_.size() && improvised(passes_[at + 1].kind)) {
      gap.span_beats = std::max(1.0, gap.span_beats - improvised_beats(passes_[at + 1].kind));
    }
    gap.hold_beats = hold_beats(gap);
    return gap;
  }

  [[nodiscard]] double hold_beats(const Gap& gap) const {
    if (gap.planned && gap.planned->kind == plan::JoinKind::hold_and_lift &&
        gap.planned->hold_beats > 0) {
      return std::min(gap.planned->hold_beats, gap.span_beats);
    }
    return gap.span_beats - std::min(player_.join.lift_beats, gap.span_beats / 2);
  }

  Act interlude_act(int index, double beats) const {
    Act act;
    act.source = index;
    act.planned = false;
    act.label = "interlude";
    act.kind = plan::PassKind::interlude;
    act.run = run_;
    act.tempo_factor = player_.tempo.factor;
    act.improvised_beats = beats > 0 ? beats : 8;
    act.after = gap_after(index, act);
    return act;
  }

  void write_act(int index) {
    Act act = bare_act(index, Planned::yes);
    for (const Fault& fault : player_.faults) {
      if (fault.pass != kEveryPass && fault.pass != index) continue;
      const std::optional<Tick> place = apply_fault(piece_, fault, act, random_);
      if (place && fault.pass != kEveryPass) plant(fault, next_truth_pass_, *place);
      if (place && fault.pass == kEveryPass && index == 0 && run_ == 1) {
        plant(fault, kEveryPass, *place);
      }
    }
    push(std::move(act));
  }

  void push(Act act) {
    if (act.sounds && act.improvised_beats == 0) act.truth_pass = next_truth_pass_++;
    act.index = static_cast<int>(script_.acts.size());
    script_.acts.push_back(std::move(act));
  }

  void plant(Fault fault, int truth_pass, Tick tick) {
    fault.pass = truth_pass;
    fault.tick = tick;
    script_.planted.push_back(fault);
  }

  [[nodiscard]] const Fault* find(FaultKind kind, int index) const {
    for (const Fault& fault : player_.faults) {
      if (fault.kind == kind && (fault.pass == index || fault.pass == kEveryPass)) return &fault;
    }
    return nullptr;
  }

  const Piece& piece_;
  const Player& player_;
  Random random_;
  std::vector<plan::RoutePass> passes_;
  Script script_;
  int run_ = 1;
  int verse_ = 0;
  int next_truth_pass_ = 0;
};

}  // namespace

Script write_script(const Piece& piece, const Player& player, std::uint64_t seed) {
  Script script = Writer(piece, player, seed).write();
  script.acts.back().after.extra_s = 0;
  return script;
}

}  // namespace loftbeat::simulate
