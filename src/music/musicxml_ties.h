#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "music/musicxml_written.h"

namespace loftbeat::music {

// Notes of one part that were begun with a tie and wait for their continuation.
class OpenTies {
 public:
  // Note `index` of the score ends at `end` and is tied on.
  void open(const WrittenNote& note, Tick end, std::size_t index) {
    waiting_[{note.pitch, end, note.voice}].push_back(index);
  }

  // Takes the note that `note`, struck at `onset`, continues: one of its own voice, else of any.
  std::optional<std::size_t> take(const WrittenNote& note, Tick onset) {
    auto found = waiting_.find({note.pitch, onset, note.voice});
    if (found == waiting_.end()) found = waiting_.lower_bound({note.pitch, onset, 0});
    if (found == waiting_.end() || std::get<0>(found->first) != note.pitch ||
        std::get<1>(found->first) != onset) {
      return std::nullopt;
    }
    const std::size_t index = found->second.back();
    found->second.pop_back();
    if (found->second.empty()) waiting_.erase(found);
    return index;
  }

 private:
  std::map<std::tuple<int, Tick, int>, std::vector<std::size_t>> waiting_;  // pitch, end, voice
};

}  // namespace loftbeat::music
