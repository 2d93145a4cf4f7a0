#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "follow/assemble.h"
#include "follow/detours.h"
#include "follow/heard.h"
#include "follow/labels.h"
#include "follow/leftovers.h"

namespace loftbeat::follow {
namespace {

constexpr double kLeastShare = 1.0 / 3.0;
// Foreign music can be read as scraps of any hymn in its key. A way made of such scraps: few notes
// matched, and a jump every few chords that nobody planned. A free verse has few matched notes but
// goes on; a play-over of single phrases jumps by plan.
constexpr double kScrapsShare = 0.6;
constexpr double kScrapsNotes = 40;
constexpr double kPlainlyAnotherSpeed = 0.15;  // as a natural logarithm

Error no_fit(std::string message) {
  return {ErrorKind::no_fit,
          std::move(message),
          {},
          0,
          0,
          "Check that the score is the hymn that was played, and that the take is the right one."};
}

std::vector<MatchedStretch> match_all(const FollowTask& task, std::vector<Stretch> stretches,
                                      const std::vector<int>& layers) {
  std::vector<MatchedStretch> matched;
  for (Stretch& stretch : stretches) {
    const int transpose = layers[static_cast<std::size_t>(stretch.layer)];
    MatchedStretch found = match_stretch(task, stretch, {.transpose = transpose});
    if (!is_the_tune(task, found)) continue;
    found.stretch.id = matched.size();
    matched.push_back(std::move(found));
  }
  return matched;
}

// Speed of the longest stretches together: median of the ticks' time, weighted by length.
double median_speed(const OnsetTable& table, const std::vector<Stretch>& stretches,
                    double otherwise) {
  std::vector<double> speeds;
  for (const Stretch& stretch : stretches) {
    for (std::size_t i = 1; i < stretch.anchors.size(); ++i) {
      const Anchor& a = stretch.anchors[i - 1];
      const Anchor& b = stretch.anchors[i];
      const Tick distance = table[b.onset].tick - table[a.onset].tick;
      speeds.push_back(static_cast<double>((b.at - a.at).count()) / static_cast<double>(distance));
    }
  }
  if (speeds.size() < 4) return otherwise;
  auto middle = speeds.begin() + static_cast<std::ptrdiff_t>(speeds.size() / 2);
  std::nth_element(speeds.begin(), middle, speeds.end());
  return *middle > 0 ? *middle : otherwise;
}

// Walks once at the set speed, and once more at the speed found if that is plainly another.
std::vector<Stretch> find_stretches(const FollowTask& task, const plan::Route& route,
                                    const std::vector<Heard>& notes,
                                    const std::vector<int>& layers) {
  const std::vector<Link> links = planned_links(task.table, route);
  double speed = task.ns_per_tick;
  std::vector<Stretch> stretches;
  for (int round = 0; round < 2; ++round) {
    const Lattice lattice(task.table, {layers, links, speed});
    stretches = cut_stretches(task.table, notes, walk(lattice, notes), layers);
    iron_out_detours(task.table, stretches);
    join_last_chords(task.table, notes, layers, stretches);
    const double found = median_speed(task.table, stretches, speed);
    if (std::abs(std::log(found / speed)) < kPlainlyAnotherSpeed) break;
    speed = found;
  }
  return stretches;
}

std::vector<Stretch> stretches_of(const std::vector<MatchedStretch>& matched) {
  std::vector<Stretch> stretches;
  stretches.reserve(matched.size());
  for (const MatchedStretch& one : matched) stretches.push_back(one.stretch);
  return stretches;
}

void settle(std::vector<BuiltPass>& built, std::size_t notes) {
  std::vector<MatchedStretch*> all;
  for (BuiltPass& pass : built) {
    for (MatchedStretch& stretch : pass.stretches) all.push_back(&stretch);
  }
  settle_claims(all, notes);
}

double share_of_tune(const Alignment& alignment) {
  std::size_t belong = 0;
  for (const NoteMatch& match : alignment.notes) {
    if (match.pass >= 0 && match.kind != MatchKind::extra) ++belong;
  }
  return static_cast<double>(belong) / static_cast<double>(alignment.notes.size());
}

std::size_t planned_spans(const plan::Route& route) {
  std::size_t spans = 0;
  for (const plan::RoutePass& pass : route.passes) spans += pass.spans.size();
  return spans;
}

bool is_scraps(const Alignment& alignment, const std::vector<BuiltPass>& built,
               const plan::Route& route) {
  std::size_t stretches = 0;
  for (const BuiltPass& pass : built) stretches += pass.stretches.size();
  const std::size_t jumps = stretches - std::min(stretches - 1, planned_spans(route));
  const auto matched =
      static_cast<double>(std::count_if(alignment.notes.begin(), alignment.notes.end(),
                                        [](const NoteMatch& match) { return match.score >= 0; }));
  const auto notes = static_cast<double>(alignment.notes.size());
  return stretches > 1 && matched < kScrapsShare * notes &&
         notes < kScrapsNotes * static_cast<double>(jumps);
}

void tell_transposition(Alignment& alignment) {
  if (alignment.passes.empty()) return;
  const int first = alignment.passes.front().transpose_semitones;
  for (const AlignedPass& pass : alignment.passes) {
    if (pass.transpose_semitones != first) return;
  }
  if (first == 0) return;
  alignment.notices.push_back(
      {fmt::format("The whole take sounds {} semitone{} {} than written: the keyboard seems to be "
                   "transposed.",
                   std::abs(first), std::abs(first) == 1 ? "" : "s",
                   first > 0 ? "higher" : "lower"),
       {},
       0});
}

}  // namespace

Result<Alignment> align(const music::Score& score, const plan::Route& route,
                        double set_quarters_per_minute, const take::CleanTake& take) {
  if (score.notes.empty()) return no_fit("The score has no notes to follow.");
  if (take.notes.size() < 4) {
    return no_fit(fmt::format("The take has {} notes; at least 4 are needed.", take.notes.size()));
  }
  const OnsetTable table(score, route.phrases.empty() ? score.phrases : route.phrases);
  const double ns_per_tick = 60e9 / set_quarters_per_minute / static_cast<double>(kTicksPerQuarter);
  const FollowTask task{score, table, take, ns_per_tick};
  const Nanoseconds closes_run = closing_silence(score, route, ns_per_tick);

  const std::vector<Heard> notes = hear_notes(take, closes_run);
  const std::vector<int> layers = likely_layers(score, route, notes);
  const std::vector<MatchedStretch> matched =
      match_all(task, find_stretches(task, route, notes, layers), layers);

  const PassRules rules{score, route, table, closes_run};
  const std::vector<FoundPass> found = group_passes(rules, take, stretches_of(matched));
  const Labels labels = label_passes(rules, found);

  Alignment alignment;
  std::vector<BuiltPass> built;
  for (std::size_t p = 0; p < found.size(); ++p) {
    built.push_back(dress_pass(task, found[p], labels.of_pass[p], matched, layers));
  }
  settle(built, take.notes.size());
  for (std::size_t p = 0; p < found.size(); ++p) {
    finish_pass(task, route, found[p], built[p]);
    alignment.passes.push_back(built[p].pass);
  }
  alignment.label_source = labels.source;
  tell_leftovers(task, built, alignment);
  tell_corrections(task, built, alignment);
  tell_asides(task, alignment);
  tell_transposition(alignment);
  alignment.matched_share = share_of_tune(alignment);
  if (alignment.matched_share < kLeastShare || is_scraps(alignment, built, route)) {
    const auto fitting = std::count_if(alignment.notes.begin(), alignment.notes.end(),
                                       [](const NoteMatch& match) { return match.score >= 0; });
    return no_fit(
        fitting == 0
            ? fmt::format("None of the {} notes played fits this tune.", take.notes.size())
            : fmt::format("Of {} notes played, {} fit this tune, and those only in scraps.",
                          take.notes.size(), fitting));
  }
  return alignment;
}

}  // namespace loftbeat::follow
