#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <utility>

#include "music/phrases.h"
#include "music/read.h"
#include "music/smf_file.h"
#include "music/smf_score_bars.h"
#include "music/smf_score_grid.h"
#include "music/smf_score_meta.h"
#include "music/smf_score_notes.h"
#include "music/smf_score_voices.h"
#include "music/smf_tempo.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

// Longer pieces are damaged delta times; 2 million quarters are 11 days at 120.
constexpr std::int64_t kMostQuarters = 2'000'000;

class SmfScoreReader {
 public:
  SmfScoreReader(SmfFile file, const std::string& name) : file_(std::move(file)), name_(name) {
    result_.notices = std::move(file_.notices);
  }

  Result<ReadScore> read() {
    const std::int64_t quarter = ticks_per_quarter();
    const SmfNotes notes = smf_notes(file_);
    if (notes.notes.empty()) {
      return Error{ErrorKind::unreadable,
                   "holds no notes; expected a tune.",
                   name_,
                   0,
                   0,
                   "Export the score again, or choose another file."};
    }
    if (notes.notes.back().on / quarter > kMostQuarters) {
      return Error{ErrorKind::too_large,
                   fmt::format("goes on for more than {} quarter notes.", kMostQuarters),
                   name_,
                   0,
                   0,
                   "Its times are damaged; export it again."};
    }
    fill_notes(notes, quarter);
    const SmfScoreMeta meta = smf_score_meta(file_, quarter, notes.notes.back().on);
    if (const Status laid = lay_bars(result_.score, meta, name_); !laid.ok()) return laid.error();
    take_over(meta);
    return std::move(result_);
  }

 private:
  // Frames know no quarters: they are laid out by the first tempo, or by 120 to the minute.
  std::int64_t ticks_per_quarter() {
    if (!file_.smpte) return file_.ticks_per_quarter;
    const auto tempi = tempo_map(file_);
    const std::int64_t tempo =
        tempi.empty() ? kDefaultTempoMicroseconds : tempi.front().microseconds;
    notice(
        fmt::format("The file counts frames and not beats; it was laid out at {:.0f} quarter "
                    "notes a minute.",
                    60e6 / static_cast<double>(tempo)));
    const double ticks = file_.ticks_per_second * static_cast<double>(tempo) * 1e-6;
    return std::max<std::int64_t>(static_cast<std::int64_t>(ticks + 0.5), 1);
  }

  void fill_notes(const SmfNotes& notes, std::int64_t quarter) {
    const GridNotes grid = put_on_grid(notes, quarter);
    give_voices(result_.score, grid.notes, notes.parts);
    if (notes.drums > 0)
      notice(fmt::format("{} notes on channel 10 (drums) were left out.", notes.drums));
    if (notes.unreleased > 0)
      notice(
          fmt::format("{} notes are never released; they end with "
                      "their track.",
                      notes.unreleased));
    result_.played = grid.quantised;
    if (grid.quantised)
      notice(
          "The notes do not lie on the beats; they were moved to the nearest "
          "semiquaver or triplet quaver.");
    if (grid.lengthened > 0)
      notice(
          fmt::format("{} notes are cut short in the file and were "
                      "lengthened to their written value.",
                      grid.lengthened));
  }

  void take_over(const SmfScoreMeta& meta) {
    Score& score = result_.score;
    score.title = meta.title;
    score.tune = meta.heading.tune;
    score.poetic_metre = meta.heading.poetic_metre;
    score.tempi = meta.tempi;
    score.keys = meta.keys;
    score.lyric_verses = meta.lyrics ? 1 : 0;
    for (const Syllable& syllable : meta.words)
      if (begins_note(syllable.at)) score.words.push_back(syllable);
    put_in_order(score.words);
    if (meta.odd_events > 0)
      notice(
          fmt::format("{} time or key signatures make no sense and were "
                      "left out.",
                      meta.odd_events));
    find_phrases(score, LineEnds{meta.lyric_lines, {}, {}, {}});
  }

  [[nodiscard]] bool begins_note(Tick at) const {
    const std::vector<Note>& notes = result_.score.notes;
    const auto note = std::lower_bound(notes.begin(), notes.end(), at,
                                       [](const Note& n, Tick t) { return n.onset < t; });
    return note != notes.end() && note->onset == at;
  }

  void notice(std::string message) { result_.notices.push_back({std::move(message), name_}); }

  SmfFile file_;
  const std::string& name_;
  ReadScore result_;
};

}  // namespace

Result<ReadScore> parse_smf_score(std::string_view bytes, const std::string& name) {
  try {
    auto file = parse_smf(bytes, name);
    if (!file) return file.error();
    return SmfScoreReader(std::move(file).value(), name).read();
  } catch (const std::exception&) {  // out of memory; nothing else is thrown here
    return Error{ErrorKind::too_large, "is too large to be held in memory.", name};
  }
}

}  // namespace loftbeat::music
