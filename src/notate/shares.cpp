#include "notate/shares.h"

#include <algorithm>

namespace loftbeat::notate {
namespace {

constexpr std::size_t kMostTried = 8;

class Sharer {
 public:
  Sharer(std::size_t keys, int voices) : keys_(keys), voices_(voices) {}
  std::vector<Share> all() {
    go_on(0, 0, {});
    return std::move(found_);
  }

 private:
  // Part `voice` and those below it get keys from `next` on.
  void go_on(int voice, std::size_t next, Share share) {
    if (voice == voices_) {
      if (next == keys_) found_.push_back(share);
      return;
    }
    auto& range = share.parts[static_cast<std::size_t>(voice)];
    const auto mark = static_cast<std::uint8_t>(next);
    range = {mark, mark};
    go_on(voice + 1, next, share);  // strikes nothing
    if (voice > 0 && next > 0 && strikes(share, voice - 1)) {
      Share with = share;
      with.parts[static_cast<std::size_t>(voice)] = {static_cast<std::uint8_t>(next - 1), mark};
      ++with.shared;
      go_on(voice + 1, next, with);
    }
    const std::size_t most = keys_ > static_cast<std::size_t>(voices_) ? keys_ - next : 1;
    for (std::size_t n = 1; n <= most && next + n <= keys_; ++n) {
      Share with = share;
      with.parts[static_cast<std::size_t>(voice)] = {mark, static_cast<std::uint8_t>(next + n)};
      with.added += static_cast<int>(n) - 1;
      go_on(voice + 1, next + n, with);
    }
  }
  static bool strikes(const Share& share, int voice) {
    const auto& range = share.parts[static_cast<std::size_t>(voice)];
    return range.end > range.begin;
  }

  std::size_t keys_;
  int voices_;
  std::vector<Share> found_;
};

Share one_share(std::size_t keys, int voices) {
  Share share;
  std::size_t next = 0;
  for (int voice = 0; voice < voices; ++voice) {
    const auto left = static_cast<std::size_t>(voices - voice - 1);
    const std::size_t end = left == 0 ? keys : left == 1 ? keys - 1 : next + 1;
    share.parts[static_cast<std::size_t>(voice)] = {static_cast<std::uint8_t>(next),
                                                    static_cast<std::uint8_t>(end)};
    next = end;
  }
  return share;
}

}  // namespace

std::vector<Share> all_shares(std::size_t keys, int voices) {
  if (keys > kMostTried) return {one_share(std::min<std::size_t>(keys, 200), voices)};
  return Sharer(keys, voices).all();
}

}  // namespace loftbeat::notate
