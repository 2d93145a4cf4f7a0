#include "simulate/keys.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace loftbeat::simulate {
namespace {

constexpr double kClosest = 0.03;  // two strikes of one key lie at least so far apart
constexpr double kLetGo = 0.02;    // a key is up so long before it is struck again

bool before(const Press& a, const Press& b) {
  return std::tie(a.stroke.on, a.stroke.pitch, a.channel) <
         std::tie(b.stroke.on, b.stroke.pitch, b.channel);
}

class KeyBed {
 public:
  KeyBed(const Stage& stage, std::vector<PlayedAct>& acts)
      : acts_(acts), habit_(stage.player.slip), random_(stage.seed, "keys") {}

  // `next` wants a key that `down` has.
  void settle(Press& down, Press& next) {
    const bool kept_down = random_.chance(habit_.held_over);
    if (next.stroke.on >= down.stroke.off + kLetGo) return;
    const bool close = next.stroke.on < down.stroke.on + 2 * kClosest;
    if (close && rank(next) > rank(down)) {
      std::swap(down.stroke, next.stroke);
      std::swap(down.act, next.act);
    }
    if (close || (kept_down && next.stroke.off > down.stroke.off && next.stroke.score >= 0)) {
      down.stroke.off = std::max(down.stroke.off, next.stroke.off);
      drop(next);
      return;
    }
    down.stroke.off =
        std::max(down.stroke.on + kClosest, std::min(down.stroke.off, next.stroke.on - kLetGo));
  }

  [[nodiscard]] static bool dropped(const Press& press) { return press.stroke.pitch < 0; }

 private:
  // Score notes win a key over all else.
  static int rank(const Press& press) { return press.stroke.score >= 0 ? 1 : 0; }

  void drop(Press& press) {
    if (press.stroke.score >= 0) acts_[press.act].held.push_back(press.stroke.score);
    press.stroke.pitch = -1;
  }

  std::vector<PlayedAct>& acts_;
  const SlipHabit& habit_;
  Random random_;
};

}  // namespace

std::vector<Press> settle_keys(const Stage& stage, std::vector<Press> presses,
                               std::vector<PlayedAct>& acts) {
  std::erase_if(presses, [](const Press& p) { return p.stroke.pitch < 0 || p.stroke.pitch > 127; });
  std::stable_sort(presses.begin(), presses.end(), before);
  std::vector<int> down(16u * 128u, -1);
  KeyBed bed(stage, acts);
  for (std::size_t i = 0; i < presses.size(); ++i) {
    const auto key = static_cast<std::size_t>(presses[i].channel * 128 + presses[i].stroke.pitch);
    if (down[key] >= 0) bed.settle(presses[static_cast<std::size_t>(down[key])], presses[i]);
    if (!KeyBed::dropped(presses[i])) down[key] = static_cast<int>(i);
  }
  std::erase_if(presses, KeyBed::dropped);
  std::stable_sort(presses.begin(), presses.end(), before);
  return presses;
}

}  // namespace loftbeat::simulate
