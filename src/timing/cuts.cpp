#include "timing/cuts.h"

#include <algorithm>

namespace loftbeat::timing {

namespace {

void add_phrase_ends(const PulseQuestion& q, std::vector<Cut>& cuts) {
  const auto& stretches = q.way.stretches();
  for (std::size_t s = 0; s < stretches.size(); ++s) {
    if (s > 0)
      cuts.push_back({q.way.place(s, stretches[s].begin), stretches[s - 1].end, CutKind::phrase_end,
                      0, std::nullopt, 0});
    auto phrase = std::partition_point(
        q.route.phrases.begin(), q.route.phrases.end(),
        [&](const music::Phrase& p) { return p.span.begin <= stretches[s].begin; });
    for (; phrase != q.route.phrases.end() && phrase->span.begin < stretches[s].end; ++phrase)
      cuts.push_back({q.way.place(s, phrase->span.begin), phrase->span.begin, CutKind::phrase_end,
                      0, std::nullopt, 0});
  }
}

void add_holds(const PulseQuestion& q, std::vector<Cut>& cuts) {
  for (const plan::PlannedHold& hold : q.route.holds) {
    if (hold.kind == plan::FermataKind::sign_only) continue;
    const auto stretch = q.way.stretch_of(hold.at);
    if (!stretch) continue;
    const auto kind = hold.kind == plan::FermataKind::free ? CutKind::free_hold : CutKind::hold;
    cuts.push_back(
        {q.way.place(*stretch, hold.until), hold.until, kind, hold.extra_beats, std::nullopt, 0});
  }
}

void add_jumps(const PulseQuestion& q, std::vector<Cut>& cuts) {
  for (const follow::Restart& restart : q.pass.restarts)
    if (const auto x = q.way.place_of(restart.to))
      cuts.push_back({*x, restart.to, restart.planned ? CutKind::omission : CutKind::restart, 0,
                      std::nullopt, 0});
  for (const follow::Omission& omission : q.pass.omissions)
    if (const auto x = q.way.place_of(omission.left_out.end))
      cuts.push_back({*x, omission.left_out.end, CutKind::omission, 0, std::nullopt, 0});
}

int rank(CutKind kind) {
  switch (kind) {
    case CutKind::restart:
    case CutKind::omission: return 0;
    case CutKind::free_hold: return 1;
    case CutKind::hold: return 2;
    case CutKind::phrase_end: return 3;
    case CutKind::interruption: break;
  }
  return 4;
}

}  // namespace

std::vector<Cut> planned_cuts(const PulseQuestion& question) {
  std::vector<Cut> cuts;
  add_phrase_ends(question, cuts);
  add_holds(question, cuts);
  add_jumps(question, cuts);
  std::stable_sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) {
    return a.x != b.x ? a.x < b.x : rank(a.kind) < rank(b.kind);
  });
  const auto same = [](const Cut& a, const Cut& b) { return a.x == b.x; };
  cuts.erase(std::unique(cuts.begin(), cuts.end(), same), cuts.end());
  return cuts;
}

std::vector<HeldStretch> held_stretches(const PulseQuestion& question) {
  std::vector<HeldStretch> held;
  for (const plan::PlannedHold& hold : question.route.holds) {
    if (hold.kind == plan::FermataKind::sign_only) continue;
    const auto stretch = question.way.stretch_of(hold.at);
    if (!stretch) continue;
    held.push_back(
        {question.way.place(*stretch, hold.at), question.way.place(*stretch, hold.until)});
  }
  return held;
}

}  // namespace loftbeat::timing
