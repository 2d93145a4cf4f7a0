#include "music/musicxml_streams.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

#include "music/musicxml_write_words.h"

namespace loftbeat::music {
namespace {

Tick end_of(const Note& note) { return note.onset + note.length; }

// Whether the note may follow in the stream, after its last one or as a chord with it.
bool fits(const Score& score, const VoiceStream& stream, const Note& note) {
  const Note& last = score.notes[stream.notes.back()];
  return end_of(last) <= note.onset || (last.onset == note.onset && last.length == note.length);
}

// Puts each note into the first stream of its voice that has room for it.
std::vector<VoiceStream> divide_into_streams(const Score& score) {
  std::map<int, std::vector<VoiceStream>> by_voice;
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const Note& note = score.notes[i];
    std::vector<VoiceStream>& streams = by_voice[note.voice];
    auto room = std::find_if(streams.begin(), streams.end(),
                             [&](const VoiceStream& s) { return fits(score, s, note); });
    if (room == streams.end())
      room = streams.insert(streams.end(), VoiceStream{note.voice, 0, false, {}});
    room->notes.push_back(i);
  }
  std::vector<VoiceStream> all;
  for (auto& [voice, streams] : by_voice) {
    std::move(streams.begin(), streams.end(), std::back_inserter(all));
  }
  return all;
}

int home_staff(const Score& score, const VoiceStream& stream) {
  std::map<int, std::size_t> counts;
  for (const std::size_t i : stream.notes) ++counts[score.notes[i].staff];
  return std::max_element(counts.begin(), counts.end(),
                          [](const auto& a, const auto& b) { return a.second < b.second; })
      ->first;
}

// The notes of a staff in as few streams as they come, whatever their voices: first the streams in
// which they make a chord, then those that are free.
std::vector<VoiceStream> share_streams(const Score& score, std::vector<std::size_t> notes,
                                       const std::vector<VoiceStream>& before) {
  std::sort(notes.begin(), notes.end());
  std::vector<VoiceStream> shared;
  for (const std::size_t index : notes) {
    const Note& note = score.notes[index];
    const auto chord = std::find_if(shared.begin(), shared.end(), [&](const VoiceStream& s) {
      return score.notes[s.notes.back()].onset == note.onset && fits(score, s, note);
    });
    const auto room = chord != shared.end()
                          ? chord
                          : std::find_if(shared.begin(), shared.end(), [&](const VoiceStream& s) {
                              return fits(score, s, note);
                            });
    if (room != shared.end()) {
      room->notes.push_back(index);
    } else {
      const std::size_t at = std::min(shared.size(), before.size() - 1);
      shared.push_back({before[at].voice, before[at].staff, false, {index}});
    }
  }
  return shared;
}

// Streams of staves that have too many are made anew.
void limit_streams(const Score& score, std::vector<VoiceStream>& streams) {
  std::map<int, std::vector<VoiceStream>> by_staff;
  for (VoiceStream& stream : streams) {
    stream.staff = home_staff(score, stream);
    by_staff[stream.staff].push_back(std::move(stream));
  }
  streams.clear();
  for (auto& [staff, own] : by_staff) {
    if (own.size() > kMostStreamsOfStaff) {
      std::vector<std::size_t> notes;
      for (const VoiceStream& stream : own)
        notes.insert(notes.end(), stream.notes.begin(), stream.notes.end());
      own = share_streams(score, std::move(notes), own);
    }
    std::move(own.begin(), own.end(), std::back_inserter(streams));
  }
  std::stable_sort(streams.begin(), streams.end(),
                   [](const VoiceStream& a, const VoiceStream& b) { return a.voice < b.voice; });
}

// The first stream of each staff writes its rests.
void choose_leaders(const Score& score, WritingPlan& plan) {
  std::set<int> led;
  for (VoiceStream& stream : plan.streams) {
    stream.leads = led.insert(stream.staff).second;
  }
  for (int staff = 0; staff < std::max(score.staves, 1); ++staff) {
    if (led.count(staff) == 0) plan.silent_staves.push_back(staff);
  }
}

// A fermata goes to the notes that begin there and last longest; else to a rest.
void place_fermatas(const Score& score, WritingPlan& plan) {
  for (const Fermata& fermata : score.fermatas) {
    const auto first = std::lower_bound(score.notes.begin(), score.notes.end(), fermata.at,
                                        [](const Note& n, Tick at) { return n.onset < at; });
    Tick longest = 0;
    for (auto n = first; n != score.notes.end() && n->onset == fermata.at; ++n) {
      longest = std::max(longest, n->length);
    }
    if (longest == 0) plan.fermata_rests.push_back(fermata.at);
    for (auto n = first; n != score.notes.end() && n->onset == fermata.at; ++n) {
      const auto index = static_cast<std::size_t>(n - score.notes.begin());
      plan.signs[index].fermata = n->length == longest;
    }
  }
}

// For each phrase but the last, the note that ends last in it; of several the topmost voice's.
std::vector<std::size_t> last_notes_of_phrases(const Score& score) {
  std::vector<std::size_t> by_end(score.notes.size());
  std::iota(by_end.begin(), by_end.end(), std::size_t{0});
  std::sort(by_end.begin(), by_end.end(), [&](std::size_t a, std::size_t b) {
    const Note& left = score.notes[a];
    const Note& right = score.notes[b];
    return std::pair(end_of(left), -left.voice) < std::pair(end_of(right), -right.voice);
  });
  std::vector<std::size_t> last;
  for (std::size_t p = 0; p + 1 < score.phrases.size(); ++p) {
    const auto after =
        std::upper_bound(by_end.begin(), by_end.end(), score.phrases[p].span.end,
                         [&](Tick at, std::size_t note) { return at < end_of(score.notes[note]); });
    if (after != by_end.begin()) last.push_back(*std::prev(after));
  }
  return last;
}

void place_phrases(const Score& score, WritingPlan& plan) {
  switch (score.phrase_source) {
    case PhraseSource::none:
    case PhraseSource::fermatas: return;
    case PhraseSource::double_bars:
      for (std::size_t p = 0; p + 1 < score.phrases.size(); ++p) {
        plan.double_bars.push_back(score.phrases[p].span.end);
      }
      return;
    case PhraseSource::breath_marks:
      for (const std::size_t note : last_notes_of_phrases(score)) plan.signs[note].breath = true;
      return;
    case PhraseSource::lyric_lines:
    case PhraseSource::plan:
      for (const std::size_t note : last_notes_of_phrases(score)) plan.signs[note].line_end = true;
      return;
  }
}

Tick find_grain(const Score& score, const WritingPlan& plan) {
  Tick grain = kTicksPerQuarter;
  const auto take = [&](Tick place) { grain = std::gcd(grain, place); };
  for (const Bar& bar : score.bars) {
    take(bar.start);
    take(bar.length);
  }
  for (const Note& note : score.notes) {
    take(note.onset);
    take(note.length);
  }
  for (const TempoMark& mark : score.tempi) take(mark.at);
  for (const KeyMark& mark : score.keys) take(mark.at);
  for (const Tick at : plan.double_bars) take(at);
  for (const Tick at : plan.fermata_rests) take(at);
  return grain;
}

}  // namespace

WritingPlan plan_writing(const Score& score) {
  WritingPlan plan;
  plan.streams = divide_into_streams(score);
  plan.signs.resize(score.notes.size());
  limit_streams(score, plan.streams);
  choose_leaders(score, plan);
  place_fermatas(score, plan);
  place_phrases(score, plan);
  place_words(score, plan);
  plan.grain = find_grain(score, plan);
  return plan;
}

}  // namespace loftbeat::music
