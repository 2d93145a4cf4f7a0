#include <algorithm>
#include <map>
#include <set>

#include "practice/findings.h"
#include "practice/words.h"

namespace loftbeat::practice {

namespace {

using follow::AlignedPass;

// Lost time that makes one unit of severity, seconds: about a beat.
constexpr double kCostlySeconds = 1;

// In which passes each printed bar had trouble of one sort.
class TroubleByBar {
 public:
  explicit TroubleByBar(const Review& review) : review_(review) {}

  void add(int pass, const std::string& bar) {
    if (review_.alignment.passes[static_cast<std::size_t>(pass)].kind == plan::PassKind::verse)
      passes_[bar].insert(pass);
  }

  // One finding for every bar that went wrong in most verses, two at least.
  void tell(FindingKind kind, std::vector<Finding>& out) const {
    const auto verses =
        std::count_if(review_.alignment.passes.begin(), review_.alignment.passes.end(),
                      [](const AlignedPass& p) { return p.kind == plan::PassKind::verse; });
    for (const auto& [bar, passes] : passes_) {
      const auto count = static_cast<std::ptrdiff_t>(passes.size());
      if (count < 2 || 2 * count <= verses) continue;
      Finding finding;
      finding.kind = kind;
      finding.pass = *passes.begin();
      finding.passes.assign(passes.begin(), passes.end());
      finding.bar = bar;
      finding.figure = static_cast<double>(count);
      finding.unit = "verses";
      finding.severity = 1 + static_cast<double>(count) / static_cast<double>(verses);
      finding.verses_affected = static_cast<int>(count);
      out.push_back(std::move(finding));
    }
  }

 private:
  const Review& review_;
  std::map<std::string, std::set<int>> passes_;
};

// Score place of an extra note: the last struck onset of its pass that is not after it.
Tick place_of(const AlignedPass& pass, Instant at) {
  const auto after =
      std::partition_point(pass.onsets.begin(), pass.onsets.end(),
                           [at](const follow::StruckOnset& onset) { return onset.first <= at; });
  return after == pass.onsets.begin() ? pass.covered.begin : std::prev(after)->tick;
}

void add_wrong(const Review& review, std::vector<Finding>& out) {
  TroubleByBar trouble(review);
  for (std::size_t i = 0; i < review.alignment.notes.size(); ++i) {
    const follow::NoteMatch& match = review.alignment.notes[i];
    if (match.kind != follow::MatchKind::extra || match.pass < 0) continue;
    const AlignedPass& pass = review.alignment.passes[static_cast<std::size_t>(match.pass)];
    const Tick at = place_of(pass, review.take.notes[i].on);
    trouble.add(match.pass, music::bar_at(review.score, at).number);
  }
  trouble.tell(FindingKind::wrong_notes, out);
}

void add_missed(const Review& review, std::vector<Finding>& out) {
  TroubleByBar trouble(review);
  for (const follow::MissedNote& missed : review.alignment.missed) {
    const music::Note& note = review.score.notes[static_cast<std::size_t>(missed.score)];
    trouble.add(missed.pass, music::bar_at(review.score, note.onset).number);
  }
  trouble.tell(FindingKind::missed_notes, out);
}

Finding at_bar(const Review& review, FindingKind kind, int pass, Tick at, double cost_s) {
  Finding finding;
  finding.kind = kind;
  finding.pass = pass;
  finding.bar = music::bar_at(review.score, at).number;
  finding.figure = cost_s;
  finding.unit = "seconds";
  finding.severity = 1 + cost_s / kCostlySeconds;
  return finding;
}

void add_repairs(const Review& review, std::vector<Finding>& out) {
  for (std::size_t i = 0; i < review.alignment.passes.size(); ++i) {
    const AlignedPass& pass = review.alignment.passes[i];
    for (const follow::Restart& restart : pass.restarts)
      if (!restart.planned)
        out.push_back(at_bar(review, FindingKind::restart, static_cast<int>(i), restart.from,
                             seconds(restart.lost)));
    for (const follow::Correction& correction : pass.corrections)
      out.push_back(at_bar(review, FindingKind::correction, static_cast<int>(i), correction.tick,
                           seconds(correction.cost)));
  }
}

// A texture counts as another only if nothing of what was planned was heard.
void add_textures(const Review& review, std::vector<Finding>& out) {
  if (review.plan.file.empty()) return;  // made on the command line, which states no textures
  for (std::size_t i = 0; i < review.alignment.passes.size(); ++i) {
    const AlignedPass& pass = review.alignment.passes[i];
    if (pass.route_pass < 0 || pass.textures.empty()) continue;
    const auto& planned = review.route.passes[static_cast<std::size_t>(pass.route_pass)].textures;
    const bool as_planned = std::any_of(planned.begin(), planned.end(), [&](plan::Texture t) {
      return std::find(pass.textures.begin(), pass.textures.end(), t) != pass.textures.end();
    });
    if (planned.empty() || as_planned) continue;
    Finding finding;
    finding.kind = FindingKind::texture;
    finding.detail = texture_name(pass.textures.front()) + texture_name(planned.front());
    finding.pass = static_cast<int>(i);
    finding.figure = 1;
    finding.unit = "passes";
    finding.severity = 1;
    out.push_back(std::move(finding));
  }
}

}  // namespace

void find_note_faults(const Review& review, std::vector<Finding>& out) {
  add_wrong(review, out);
  add_missed(review, out);
  add_repairs(review, out);
  add_textures(review, out);
}

}  // namespace loftbeat::practice
