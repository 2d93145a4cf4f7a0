#include "music/musicxml_voices.h"

#include <algorithm>
#include <map>
#include <numeric>

#include "music/musicxml_document.h"

namespace loftbeat::music {
namespace {

// Notes of one voice on its staff.
struct VoiceGroup {
  int staff = 0;  // in the system
  std::int64_t notes = 0;
  std::int64_t pitch_sum = 0;
  std::size_t first_seen = 0;
  bool main = true;  // not one that comes and goes
  int size = 1;      // notes of its largest chord
  int base = 0;      // number of its top note
  bool from_bottom = false;
};

class VoiceAssigner {
 public:
  explicit VoiceAssigner(WrittenScore& score) : score_(score) {}

  void assign() {
    for (std::size_t p = 0; p < score_.parts.size(); ++p) collect(p);
    find_main_voices();
    for_each_chord([](VoiceGroup& group, const Chord& chord) {
      group.size = std::max(group.size, static_cast<int>(chord.size()));
    });
    number_groups();
    for_each_chord([](const VoiceGroup& group, const Chord& chord) {
      const int skipped = group.from_bottom ? group.size - static_cast<int>(chord.size()) : 0;
      for (std::size_t i = 0; i < chord.size(); ++i) {
        chord[i]->lane = group.base + skipped + static_cast<int>(i);
      }
    });
  }

 private:
  using Chord = std::vector<WrittenNote*>;  // from the top
  using Key = std::pair<int, int>;          // voice and staff of the part

  template <typename Visit>
  void for_each_note(std::size_t p, Visit visit) {
    for (WrittenBar& bar : score_.parts[p].bars) {
      for (WrittenNote& note : bar.notes) visit(note);
    }
  }

  // Forms the groups of one part and remembers to which each (voice, staff) belongs.
  void collect(std::size_t p) {
    std::map<Key, std::int64_t> counts;
    for_each_note(p, [&](const WrittenNote& note) { ++counts[{note.voice, note.staff}]; });
    std::map<int, std::int64_t> totals;
    std::map<int, Key> homes;  // where most of a voice is
    for (const auto& [key, count] : counts) {
      totals[key.first] += count;
      const auto home = homes.emplace(key.first, key).first;
      if (count > counts[home->second]) home->second = key;
    }
    auto& members = members_.emplace_back();
    for (const auto& [key, count] : counts) {
      const bool own = count * 5 >= totals[key.first];
      const Key home = own ? key : homes[key.first];
      const auto [group, added] = members.emplace(home, groups_.size());
      if (added) groups_.push_back({score_.parts[p].first_staff + home.second});
      members.emplace(key, group->second);
    }
    for_each_note(p, [&](const WrittenNote& note) {
      VoiceGroup& group = groups_[members.at({note.voice, note.staff})];
      if (group.notes++ == 0) group.first_seen = seen_;
      group.pitch_sum += note.pitch;
      ++seen_;
    });
  }

  void find_main_voices() {
    std::map<int, std::int64_t> busiest;
    for (const VoiceGroup& group : groups_) {
      busiest[group.staff] = std::max(busiest[group.staff], group.notes);
    }
    for (VoiceGroup& group : groups_) group.main = group.notes * 4 >= busiest[group.staff];
  }

  void number_groups() {
    std::vector<std::size_t> order(groups_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return stands_above(groups_[a], groups_[b]); });
    int next = 0;
    for (const std::size_t g : order) {
      groups_[g].base = next;
      next += groups_[g].size;
    }
    if (order.size() > 1) groups_[order.back()].from_bottom = true;
  }

  bool stands_above(const VoiceGroup& a, const VoiceGroup& b) const {
    if (a.staff != b.staff) return a.staff < b.staff;
    const bool lowest_staff = a.staff > 0 && a.staff == score_.staves - 1;
    if (a.main != b.main) return lowest_staff ? b.main : a.main;
    const std::int64_t pitch_a = a.pitch_sum * b.notes;
    const std::int64_t pitch_b = b.pitch_sum * a.notes;
    return pitch_a != pitch_b ? pitch_a > pitch_b : a.first_seen < b.first_seen;
  }

  // Notes that one voice strikes at one time, bar by bar.
  template <typename Visit>
  void for_each_chord(Visit visit) {
    for (std::size_t p = 0; p < score_.parts.size(); ++p) {
      for (WrittenBar& bar : score_.parts[p].bars) visit_chords(bar, members_[p], visit);
    }
  }

  template <typename Visit>
  void visit_chords(WrittenBar& bar, const std::map<Key, std::size_t>& members, Visit visit) {
    struct Placed {
      std::size_t group;
      WrittenNote* note;
    };
    std::vector<Placed> placed;
    for (WrittenNote& note : bar.notes) {
      placed.push_back({members.at({note.voice, note.staff}), &note});
    }
    const auto place = [](const Placed& p) { return std::pair(p.group, p.note->span.begin); };
    std::stable_sort(placed.begin(), placed.end(), [&](const Placed& a, const Placed& b) {
      return place(a) != place(b) ? place(a) < place(b) : a.note->pitch > b.note->pitch;
    });
    Chord chord;
    for (std::size_t i = 0; i < placed.size(); ++i) {
      chord.push_back(placed[i].note);
      if (i + 1 < placed.size() && place(placed[i]) == place(placed[i + 1])) continue;
      visit(groups_[placed[i].group], chord);
      chord.clear();
    }
  }

  WrittenScore& score_;
  std::vector<VoiceGroup> groups_;
  std::vector<std::map<Key, std::size_t>> members_;  // by part
  std::size_t seen_ = 0;
};

void take_file_numbers(WrittenScore& score) {
  for (WrittenPart& part : score.parts) {
    for (WrittenBar& bar : part.bars) {
      for (WrittenNote& note : bar.notes) {
        const auto voice = static_cast<std::size_t>(note.voice);
        note.lane = to_int(part.voices[voice]).value_or(1) - 1;
      }
    }
  }
}

bool all_numbered(const WrittenScore& score) {
  const auto is_number = [](const std::string& name) {
    const auto number = to_int(name);
    return number && *number >= 1 && *number <= 10'000;
  };
  return std::all_of(score.parts.begin(), score.parts.end(), [&](const WrittenPart& part) {
    return std::all_of(part.voices.begin(), part.voices.end(), is_number);
  });
}

}  // namespace

void assign_voices(WrittenScore& score) {
  if (score.voices_as_numbered && all_numbered(score)) {
    take_file_numbers(score);
  } else {
    VoiceAssigner(score).assign();
  }
}

}  // namespace loftbeat::music
