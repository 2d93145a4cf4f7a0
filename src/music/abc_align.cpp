#include "music/abc_align.h"

#include <algorithm>
#include <utility>

namespace loftbeat::music {
namespace {

// Where bars begin and, last, where the final one ends.
std::vector<Tick> bar_edges(const std::vector<Tick>& lengths) {
  std::vector<Tick> edges = {0};
  for (const Tick length : lengths) edges.push_back(edges.back() + length);
  return edges;
}

bool is_edge(const std::vector<Tick>& edges, Tick at) {
  return std::binary_search(edges.begin(), edges.end(), at);
}

bool fits_by_time(const AbcVoice& voice, const AbcVoice& model) {
  const std::size_t common = std::min(voice.lengths.size(), model.lengths.size());
  std::size_t same = 0;
  for (std::size_t b = 0; b < common; ++b) same += voice.lengths[b] == model.lengths[b];
  if (same == common) return false;
  const std::vector<Tick> model_edges = bar_edges(model.lengths);
  std::size_t met = 0;
  for (const Tick edge : bar_edges(voice.lengths)) met += edge > 0 && is_edge(model_edges, edge);
  return met > same;
}

// Puts what a voice has in its bars into bars between other edges.
class Divider {
 public:
  Divider(AbcVoice& voice, const AbcVoice& model)
      : voice_(voice), edges_(bar_edges(model.lengths)), lengths_(model.lengths) {
    const Tick end = bar_edges(voice.lengths).back();
    if (end > edges_.back()) {
      lengths_.push_back(end - edges_.back());
      edges_.push_back(end);
    }
    bars_.resize(lengths_.size());
  }

  void divide() {
    const std::vector<Tick> starts = bar_edges(voice_.lengths);
    for (std::size_t b = 0; b < voice_.bars.size(); ++b)
      move_bar(voice_.bars[b], starts[b], starts[b + 1]);
    for (AbcMetreChange& change : voice_.metre_changes) {
      change.bar = bar_of(starts[std::min(change.bar, starts.size() - 1)]);
    }
    const Tick end = starts.back();
    while (bars_.size() > 1 && edges_[bars_.size() - 1] >= end) bars_.pop_back();
    lengths_.resize(bars_.size());
    for (std::size_t b = 0; b < bars_.size(); ++b) bars_[b].extent = lengths_[b];
    voice_.bars = std::move(bars_);
    voice_.lengths = std::move(lengths_);
  }

 private:
  // The bar that holds `at`; the last one from its start on.
  [[nodiscard]] std::size_t bar_of(Tick at) const {
    const auto after = std::upper_bound(edges_.begin(), edges_.end(), at);
    const auto bar = static_cast<std::size_t>(after - edges_.begin());
    return std::min(bar == 0 ? 0 : bar - 1, bars_.size() - 1);
  }
  WrittenBar& at(Tick where) { return bars_[bar_of(where)]; }
  [[nodiscard]] Tick within(Tick where) const { return where - edges_[bar_of(where)]; }

  void move_bar(const WrittenBar& bar, Tick start, Tick end) {
    std::vector<std::size_t> places;  // of the notes in their new bars
    for (WrittenNote note : bar.notes) {
      const Tick onset = start + note.span.begin;
      note.span = {within(onset), within(onset) + note.span.length()};
      places.push_back(at(onset).notes.size());
      at(onset).last_onset = std::max(at(onset).last_onset, note.span.begin);
      at(onset).notes.push_back(note);
    }
    for (WrittenLyric lyric : bar.lyrics) {
      const Tick onset = start + bar.notes[lyric.note].span.begin;
      lyric.note = places[lyric.note];
      at(onset).lyrics.push_back(lyric);
    }
    move_marks(bar, start);
    move_signs(bar, start, end);
  }

  void move_marks(const WrittenBar& bar, Tick start) {
    for (const TickSpan& rest : bar.fermata_rests) {
      const Tick onset = start + rest.begin;
      at(onset).fermata_rests.push_back({within(onset), within(onset) + rest.length()});
    }
    for (TempoMark mark : bar.tempi) {
      const Tick onset = start + mark.at;
      mark.at = within(onset);
      at(onset).tempi.push_back(mark);
    }
    for (KeyMark mark : bar.keys) {
      const Tick onset = start + mark.at;
      mark.at = within(onset);
      at(onset).keys.push_back(mark);
    }
    if (bar.play_over_begin) {
      at(start + *bar.play_over_begin).play_over_begin = within(start + *bar.play_over_begin);
    }
    if (bar.play_over_end) {
      at(start + *bar.play_over_end - 1).play_over_end = within(start + *bar.play_over_end - 1) + 1;
    }
  }

  // Signs on a bar line go with it where the other voice has one there; else they are lost.
  void move_signs(const WrittenBar& bar, Tick start, Tick end) {
    if (is_edge(edges_, start)) {
      RepeatSigns left;
      left.forward = bar.signs.forward;
      left.ending = bar.signs.ending;
      left.segno = bar.signs.segno;
      left.coda = bar.signs.coda;
      merge_signs(at(start).signs, left);
    }
    if (!is_edge(edges_, end)) {
      if (bar.double_bar_at_end) at(end).double_bars.push_back(within(end));
      return;
    }
    RepeatSigns right = bar.signs;
    right.forward = false;
    right.ending.clear();
    right.segno.clear();
    right.coda.clear();
    merge_signs(at(end - 1).signs, right);
    at(end - 1).double_bar_at_end |= bar.double_bar_at_end;
    at(end - 1).fermata_at_end |= bar.fermata_at_end;
  }

  AbcVoice& voice_;
  std::vector<Tick> edges_;
  std::vector<Tick> lengths_;
  std::vector<WrittenBar> bars_;
};

}  // namespace

void align_abc_bars(const std::vector<AbcVoice*>& voices, AbcReport& report) {
  const auto sounding = std::find_if(voices.begin(), voices.end(),
                                     [](const AbcVoice* voice) { return voice->notes_read() > 0; });
  if (sounding == voices.end()) return;
  for (AbcVoice* voice : voices) {
    if (voice == *sounding || voice->bars.empty() || !fits_by_time(*voice, **sounding)) continue;
    report.put_up_with({}, "voice " + abc_shown(voice->name()) +
                               " has its bar lines at other places than voice " +
                               abc_shown((*sounding)->name()) + "; the latter's count");
    Divider(*voice, **sounding).divide();
  }
}

}  // namespace loftbeat::music
