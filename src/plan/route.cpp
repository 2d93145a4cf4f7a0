#include "plan/route.h"

#include <algorithm>

#include <fmt/format.h>

#include "plan/places.h"
#include "plan/read.h"

namespace loftbeat::plan {
namespace {

using music::Phrase;
using music::Score;

// Phrase numbers as stretches of score time; neighbours in order become one stretch.
Result<std::vector<TickSpan>> spans_of(const std::vector<int>& numbers,
                                       const std::vector<Phrase>& phrases, const Plan& plan,
                                       int line) {
  std::vector<TickSpan> spans;
  for (const int number : numbers) {
    if (phrases.empty()) {
      return plan_error(plan.file, line, "phrases are wanted, but the score shows none.",
                        "State where they begin: phrase-starts = [\"1\", \"5\", ...].");
    }
    if (number < 1 || static_cast<std::size_t>(number) > phrases.size()) {
      return plan_error(
          plan.file, line,
          fmt::format("there is no phrase {}; the tune has {}.", number, phrases.size()),
          "Give numbers from 1, or state phrase-starts.");
    }
    const TickSpan span = phrases[static_cast<std::size_t>(number) - 1].span;
    if (!spans.empty() && spans.back().end == span.begin) {
      spans.back().end = span.end;
    } else {
      spans.push_back(span);
    }
  }
  return spans;
}

std::vector<int> with_refrain(std::vector<int> numbers, const std::vector<int>& refrain) {
  const bool there = numbers.size() >= refrain.size() &&
                     std::equal(refrain.rbegin(), refrain.rend(), numbers.rbegin());
  if (!there) numbers.insert(numbers.end(), refrain.begin(), refrain.end());
  return numbers;
}

// Sets the broadening's tick: the last time the place comes within the pass.
Status broaden(RoutePass& pass, const Broadening& broadening, const Plan& plan,
               const Score& score) {
  const auto places = find_place(score, plan.beat, broadening.from, plan.file);
  if (!places) return places.error();
  for (const Tick at : *places) {
    const bool inside = std::any_of(pass.spans.begin(), pass.spans.end(),
                                    [&](const TickSpan& span) { return span.contains(at); });
    if (inside) pass.broaden_from = at;
  }
  if (!pass.broaden_from) {
    return plan_error(
        plan.file, broadening.from.line,
        fmt::format("bar {} is not played in pass {}.", broadening.from.bar, pass.label),
        "Let the broadening begin at a bar that this pass plays.");
  }
  pass.broaden_percent = broadening.percent;
  return {};
}

Status dress(RoutePass& pass, const PassPlan& wanted, const Plan& plan, const Score& score) {
  pass.textures = wanted.textures.empty() ? plan.textures : wanted.textures;
  pass.transpose_semitones = wanted.transpose_semitones;
  pass.unaccompanied = wanted.unaccompanied;
  if (wanted.broadening) return broaden(pass, *wanted.broadening, plan, score);
  return {};
}

// Every stretch must hold a note, or there is nothing to follow.
Status check_notes(const RoutePass& pass, const Plan& plan, const Score& score, int line) {
  for (const TickSpan& span : pass.spans) {
    if (first_onset_in(score, span) < 0) {
      return plan_error(plan.file, line,
                        fmt::format("pass {} has a phrase without a note.", pass.label),
                        "Check phrase-starts against the score.");
    }
  }
  return {};
}

Result<RoutePass> play_over_pass(const Plan& plan, const Score& score,
                                 const std::vector<Phrase>& phrases) {
  RoutePass pass;
  pass.label = "play-over";
  pass.kind = PassKind::play_over;
  pass.spans = {{0, score.length}};
  std::vector<int> numbers = plan.play_over.phrases;
  if (plan.play_over.kind == PlayOverKind::first_and_last) {
    if (phrases.size() < 2) {
      return plan_error(plan.file, plan.lines.play_over,
                        "a play-over of the first and last phrase needs a tune in phrases.",
                        "State where they begin: phrase-starts = [\"1\", \"5\", ...].");
    }
    numbers = {1, static_cast<int>(phrases.size())};
  }
  if (plan.play_over.kind != PlayOverKind::whole) {
    auto spans = spans_of(numbers, phrases, plan, plan.lines.play_over);
    if (!spans) return spans.error();
    pass.spans = std::move(spans).value();
  }
  if (Status status = dress(pass, plan.play_over_plan, plan, score); !status) return status.error();
  if (Status status = check_notes(pass, plan, score, plan.lines.play_over); !status) {
    return status.error();
  }
  return pass;
}

RoutePass unwritten(PassKind kind, std::string label) {
  RoutePass pass;
  pass.kind = kind;
  pass.label = std::move(label);
  pass.textures = {Texture::free_harmony};
  return pass;
}

// The verse number of a pass, or 0.
int verse_of(const RoutePass& pass) {
  if (pass.kind != PassKind::verse) return 0;
  int verse = 0;
  for (const char c : pass.label) {
    if (c < '0' || c > '9' || verse > music::kMaxVerses) return 0;
    verse = verse * 10 + (c - '0');
  }
  return verse;
}

struct ChosenJoin {
  std::optional<Join> join;
  int line = 0;
};

ChosenJoin choose_join(const Plan& plan, const RoutePass& from) {
  if (from.kind == PassKind::play_over) {
    if (plan.play_over_plan.join_after) {
      return {plan.play_over_plan.join_after, plan.play_over_plan.line};
    }
    if (plan.join_after_play_over) {
      return {plan.join_after_play_over, plan.lines.join_after_play_over};
    }
  }
  const auto own = plan.verse_plans.find(verse_of(from));
  if (own != plan.verse_plans.end() && own->second.join_after) {
    return {own->second.join_after, own->second.line};
  }
  return {plan.join, plan.lines.join};
}

const Interlude* interlude_after(const Plan& plan, int verse) {
  for (const Interlude& interlude : plan.interludes) {
    if (interlude.after_verse == verse) return &interlude;
  }
  return nullptr;
}

std::optional<double> span_between(const Join& join, const Plan& plan, const Score& score,
                                   const RoutePass& from, const RoutePass& to) {
  if (from.spans.empty() || to.spans.empty()) return std::nullopt;
  const TickSpan last = from.spans.back();
  const Tick last_onset = last_onset_in(score, last);
  const Tick next = first_onset_in(score, to.spans.front());
  if (last_onset < 0 || next < 0) return std::nullopt;
  return join_span_beats(join, score, plan.beat, last_onset, last, next);
}

class RouteMaker {
 public:
  RouteMaker(const Plan& plan, const Score& score) : plan_(plan), score_(score) {}

  Result<Route> make() {
    for (const auto step :
         {&RouteMaker::check_score, &RouteMaker::lay_phrases, &RouteMaker::lay_holds,
          &RouteMaker::lay_play_over, &RouteMaker::check_numbers, &RouteMaker::lay_verses,
          &RouteMaker::lay_joins}) {
      if (Status status = (this->*step)(); !status) return status.error();
    }
    return std::move(route_);
  }

 private:
  Status check_score() {
    if (!score_.bars.empty() && !score_.notes.empty()) return {};
    return plan_error(plan_.file, 0, "the score has no notes.", "Choose another score.");
  }

  Status lay_phrases() {
    auto phrases = find_phrases(plan_, score_);
    if (!phrases) return phrases.error();
    route_.phrases = std::move(phrases).value();
    // A refrain is checked even where no verse lists phrases.
    const auto refrain =
        spans_of(plan_.refrain_phrases, route_.phrases, plan_, plan_.lines.refrain);
    if (!refrain) return refrain.error();
    Status status = check_moves(plan_.moves_at);
    for (auto pass = plan_.verse_plans.begin(); status && pass != plan_.verse_plans.end(); ++pass)
      status = check_moves(pass->second.moves_at.value_or(MovesAt{}));
    return status;
  }

  // Stops move at the end of a phrase that the tune has, and not of its last: that is the join.
  Status check_moves(const MovesAt& moves) {
    if (moves.kind != MovesAtKind::phrase_end) return {};
    const auto numbered = spans_of({moves.phrase}, route_.phrases, plan_, moves.line);
    if (!numbered) return numbered.error();
    if (static_cast<std::size_t>(moves.phrase) < route_.phrases.size()) return {};
    return plan_error(plan_.file, moves.line,
                      fmt::format("phrase {} is the tune's last.", moves.phrase),
                      "What moves after it moves at the join: moves-at = \"join\".");
  }

  Status lay_holds() {
    const auto holds = find_holds(plan_, score_);
    if (!holds) return holds.error();
    for (const HoldRule& hold : *holds) {
      route_.holds.push_back(
          {hold.at, written_end(hold.at), hold.rule.kind, hold.rule.extra_beats});
    }
    return {};
  }

  // The end of the topmost voice's note that begins at `at`; of the first note sounding after it
  // where only a rest carries the sign.
  [[nodiscard]] Tick written_end(Tick at) const {
    const auto first =
        std::lower_bound(score_.notes.begin(), score_.notes.end(), at,
                         [](const music::Note& note, Tick t) { return note.onset < t; });
    const music::Note* top = nullptr;
    for (auto note = first; note != score_.notes.end() && note->onset == at; ++note) {
      if (top == nullptr || note->voice < top->voice) top = &*note;
    }
    if (top != nullptr) return at + top->length;
    return first != score_.notes.end() ? first->onset : score_.length;
  }

  Status lay_play_over() {
    route_.play_over_known = plan_.play_over.kind != PlayOverKind::automatic;
    if (!route_.play_over_known || plan_.play_over.kind == PlayOverKind::none) return {};
    auto pass = play_over_pass(plan_, score_, route_.phrases);
    if (!pass) return pass.error();
    route_.passes.push_back(std::move(pass).value());
    return {};
  }

  // Verse numbers that the plan names must exist.
  Status check_numbers() {
    route_.verses_known = plan_.verses.has_value();
    if (!route_.verses_known) return {};
    for (const auto& [verse, pass] : plan_.verse_plans) {
      if (verse > *plan_.verses) return beyond("verse", verse, pass.line);
    }
    for (const Interlude& interlude : plan_.interludes) {
      if (interlude.after_verse > *plan_.verses) {
        return beyond("an interlude after verse", interlude.after_verse, interlude.line);
      }
    }
    return {};
  }

  [[nodiscard]] Status beyond(std::string_view what, int verse, int line) const {
    return plan_error(
        plan_.file, line,
        fmt::format("{} {} is planned, but the hymn has {}.", what, verse,
                    *plan_.verses == 1 ? "1 verse" : fmt::format("{} verses", *plan_.verses)),
        "Change `verses`, or take this part out.");
  }

  Status lay_verses() {
    if (!plan_.verses) return check_open_verses();
    for (int verse = 1; verse <= *plan_.verses; ++verse) {
      auto pass = verse_pass(plan_, score_, route_.phrases, verse);
      if (!pass) return pass.error();
      route_.passes.push_back(std::move(pass).value());
      if (interlude_after(plan_, verse) != nullptr) {
        route_.passes.push_back(unwritten(PassKind::interlude, "interlude"));
      }
    }
    if (plan_.amen) route_.passes.push_back(unwritten(PassKind::amen, "amen"));
    return {};
  }

  // With the number of verses open, what is said of single verses must still fit the score.
  Status check_open_verses() {
    for (const auto& [verse, wanted] : plan_.verse_plans) {
      const auto pass = verse_pass(plan_, score_, route_.phrases, verse);
      if (!pass) return pass.error();
    }
    return {};
  }

  Status lay_joins() {
    for (std::size_t i = 0; i + 1 < route_.passes.size(); ++i) {
      const RoutePass& from = route_.passes[i];
      const RoutePass* to = &route_.passes[i + 1];
      if (to->kind == PassKind::interlude && i + 2 < route_.passes.size()) {
        to = &route_.passes[i + 2];
      }
      const RouteJoin join = plan_join(plan_, score_, from, *to);
      if (join.join && join.span_beats && *join.span_beats <= 0) {
        return plan_error(plan_.file, choose_join(plan_, from).line,
                          fmt::format("the join \"{}\" leaves no room between {} and {}.",
                                      to_string(*join.join), from.label, to->label),
                          "Give the last chord a beat or more.");
      }
      route_.joins.push_back(join);
    }
    return {};
  }

  const Plan& plan_;
  const Score& score_;
  Route route_;
};

}  // namespace

Result<RoutePass> verse_pass(const Plan& plan, const Score& score,
                             const std::vector<Phrase>& phrases, int verse) {
  RoutePass pass;
  pass.label = std::to_string(verse);
  pass.spans = {{0, score.length}};
  const auto own = plan.verse_plans.find(verse);
  const PassPlan wanted = own != plan.verse_plans.end() ? own->second : PassPlan{};
  if (!wanted.phrases.empty()) {
    auto spans =
        spans_of(with_refrain(wanted.phrases, plan.refrain_phrases), phrases, plan, wanted.line);
    if (!spans) return spans.error();
    pass.spans = std::move(spans).value();
  }
  if (Status status = dress(pass, wanted, plan, score); !status) return status.error();
  if (Status status = check_notes(pass, plan, score, wanted.line); !status) return status.error();
  return pass;
}

RouteJoin plan_join(const Plan& plan, const Score& score, const RoutePass& from,
                    const RoutePass& to) {
  RouteJoin planned;
  planned.after_play_over = from.kind == PassKind::play_over;
  const Interlude* interlude = interlude_after(plan, verse_of(from));
  planned.with_interlude = interlude != nullptr || from.kind == PassKind::interlude;
  const bool unwritten_side = from.spans.empty() || to.spans.empty();
  if (unwritten_side || from.unaccompanied || to.unaccompanied) return planned;
  planned.join = choose_join(plan, from).join;
  if (!planned.join || (interlude != nullptr && interlude->beats == 0)) return planned;
  planned.span_beats = span_between(*planned.join, plan, score, from, to);
  if (planned.span_beats && interlude != nullptr) *planned.span_beats += interlude->beats;
  return planned;
}

Result<Route> make_route(const Plan& plan, const Score& score) {
  return RouteMaker(plan, score).make();
}

}  // namespace loftbeat::plan
