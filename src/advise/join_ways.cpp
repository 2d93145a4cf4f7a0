#include "advise/join_ways.h"

namespace loftbeat::advise {
namespace {

bool alike(const FreeHand& a, const FreeHand& b) {
  return a.left == b.left && a.right == b.right && a.as_written == b.as_written &&
         a.span_semitones == b.span_semitones && a.in_hands == b.in_hands;
}

}  // namespace

Ways ways_by_one_movement(const OneMovement& one_movement, const organ::Organ& organ,
                          const std::vector<organ::Registration>& candidates,
                          const plan::MovesAt& moves_at) {
  Ways ways;
  ways.prepares = moves_at.kind == plan::MovesAtKind::silent;
  std::vector<Controls> bits;
  for (const organ::Registration& drawn : candidates) bits.push_back(one_movement.controls(drawn));
  ways.to.resize(candidates.size());
  for (std::size_t from = 0; from < candidates.size(); ++from) {
    Controls ready;
    if (ways.prepares) ready = one_movement.silent(sounding_divisions(organ, candidates[from]));
    for (std::size_t to = 0; to < candidates.size(); ++to) {
      if (one_movement.may_lead(bits[from], bits[to], ready))
        ways.to[from].push_back(static_cast<std::uint32_t>(to));
    }
  }
  return ways;
}

bool alike(const JoinFacts& a, const JoinFacts& b) {
  const bool windows = a.window && b.window ? a.window->whole_s == b.window->whole_s &&
                                                  a.window->lift_s == b.window->lift_s &&
                                                  a.window->beat_s == b.window->beat_s
                                            : !a.window && !b.window;
  return windows && alike(a.hand, b.hand) && alike(a.hand_after, b.hand_after) &&
         a.moves_at == b.moves_at && a.after_play_over == b.after_play_over &&
         a.same_textures == b.same_textures;
}

}  // namespace loftbeat::advise
