#include "practice/drill.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "plan/route.h"

namespace loftbeat::practice {
namespace {

Error refused(const plan::Plan& plan, std::string message, std::string hint) {
  return {ErrorKind::wrong_use, std::move(message), plan.file, 0, 0, std::move(hint)};
}

plan::PassPlan verse_of(const plan::Plan& plan, int verse) {
  const auto found = plan.verse_plans.find(verse);
  return found == plan.verse_plans.end() ? plan::PassPlan{} : found->second;
}

// The lines that a verse is made of, in order.
std::vector<int> lines_of(const plan::Plan& plan, const plan::PassPlan& verse, int lines) {
  std::vector<int> all = verse.phrases;
  if (all.empty()) {
    for (int line = 1; line <= lines; ++line) all.push_back(line);
    return all;
  }
  const auto& refrain = plan.refrain_phrases;
  const bool ends_so =
      all.size() >= refrain.size() && std::equal(refrain.rbegin(), refrain.rend(), all.rbegin());
  if (!ends_so) all.insert(all.end(), refrain.begin(), refrain.end());
  return all;
}

// What belongs to verses that a drill does not play.
plan::Plan bare(const plan::Plan& plan, int verses) {
  plan::Plan drill = plan;
  drill.verses = verses;
  drill.verse_plans.clear();
  drill.interludes.clear();
  drill.refrain_phrases.clear();
  drill.amen = false;
  if (drill.moves_at.kind == plan::MovesAtKind::phrase_end) drill.moves_at = {};
  return drill;
}

// One line of a verse. Stops that move at a line's end inside it move at the join instead.
plan::PassPlan line_of(plan::PassPlan verse, int line) {
  verse.phrases = {line};
  if (verse.moves_at && verse.moves_at->kind == plan::MovesAtKind::phrase_end)
    verse.moves_at.reset();
  return verse;
}

// A broadening may begin in a line that is not played.
void drop_broadenings_elsewhere(plan::Plan& drill, const music::Score& score) {
  if (plan::make_route(drill, score).ok()) return;
  for (auto& [number, verse] : drill.verse_plans) verse.broadening.reset();
}

}  // namespace

Result<Drill> play_over_drill(const plan::Plan& plan, const music::Score& score) {
  if (plan.play_over.kind == plan::PlayOverKind::none)
    return refused(plan, "the plan has no play-over to rehearse.",
                   "Write play-over = \"whole\" (or \"first-and-last\") into it.");
  const Result<plan::Route> route = plan::make_route(plan, score);
  if (!route) return route.error();
  Drill drill{bare(plan, 1), ""};
  plan::PassPlan verse = verse_of(plan, 1);
  const int lines = static_cast<int>(route->phrases.size());
  if (lines > 0) verse = line_of(verse, lines_of(plan, verse, lines).front());
  drill.plan.verse_plans[1] = std::move(verse);
  drop_broadenings_elsewhere(drill.plan, score);
  return drill;
}

Result<Drill> join_drill(const plan::Plan& plan, const music::Score& score, int verse) {
  const Result<plan::Route> route = plan::make_route(plan, score);
  if (!route) return route.error();
  const int verses = plan.verses.value_or(std::max(1, score.lyric_verses));
  if (verse < 1 || verse >= verses)
    return refused(plan, "there is no join after verse " + std::to_string(verse) + ".",
                   verses < 2
                       ? "The hymn has one verse."
                       : "There are joins after verses 1 to " + std::to_string(verses - 1) + ".");
  const int lines = static_cast<int>(route->phrases.size());
  if (lines == 0)
    return refused(plan, "the tune has no lines that a drill could begin and end with.",
                   "State where they begin: phrase-starts = [\"1\", \"5\", ...].");
  const plan::PassPlan before = verse_of(plan, verse);
  const plan::PassPlan after = verse_of(plan, verse + 1);
  if (before.unaccompanied || after.unaccompanied)
    return refused(plan, "beside this join a verse is sung without the organ.",
                   "Choose another join.");
  Drill drill{bare(plan, 2), ""};
  drill.plan.play_over = plan::PlayOver{plan::PlayOverKind::none, {}};
  const int last = lines_of(plan, before, lines).back();
  const int first = lines_of(plan, after, lines).front();
  drill.plan.verse_plans[1] = line_of(before, last);
  drill.plan.verse_plans[2] = line_of(after, first);
  drop_broadenings_elsewhere(drill.plan, score);
  drill.words = "Below, \"verse 1\" is line " + std::to_string(last) + " of verse " +
                std::to_string(verse) + ", and \"verse 2\" is line " + std::to_string(first) +
                " of verse " + std::to_string(verse + 1) + ".";
  return drill;
}

}  // namespace loftbeat::practice
