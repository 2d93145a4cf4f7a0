// Any bytes as MusicXML or as compressed MusicXML: an error or a score that keeps its invariants,
// and that is read back the same from what is written of it.

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <tuple>

#include "music/read.h"
#include "music/write.h"

namespace {

using namespace loftbeat;
using namespace loftbeat::music;

void require(bool kept) {
  if (!kept) std::abort();
}

void require_notes(const Score& score) {
  const auto before = [](const Note& a, const Note& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  };
  require(std::is_sorted(score.notes.begin(), score.notes.end(), before));
  for (const Note& note : score.notes) {
    require(note.onset >= 0 && note.length > 0 && note.onset + note.length <= score.length);
    require(note.pitch >= 0 && note.pitch <= 127);
    require(note.voice >= 0 && note.voice < score.voices);
    require(note.staff >= 0 && note.staff < score.staves);
  }
}

void require_bars(const Score& score) {
  Tick end = 0;
  for (const Bar& bar : score.bars) {
    require(bar.start == end && bar.length > 0 && bar.beats > 0 && bar.beat_type > 0);
    end += bar.length;
  }
  require(end == score.length);
}

void require_phrases(const Score& score) {
  Tick end = 0;
  for (const Phrase& phrase : score.phrases) {
    require(phrase.span.begin == end && phrase.span.length() > 0);
    end = phrase.span.end;
  }
  require(score.phrases.empty() || end == score.length);
}

void try_score(const Result<ReadScore>& read) {
  if (!read) {
    require(!read.error().message.empty());
    return;
  }
  const Score& score = read->score;
  require_notes(score);
  require_bars(score);
  require_phrases(score);
  if (score.notes.size() > 2000 || score.bars.size() > 2000) return;  // keeps runs quick
  const auto back = parse_musicxml(format_musicxml(score), "written");
  require(back.ok());
  require(back->score.notes == score.notes);
  require(back->score.length == score.length);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  try_score(parse_musicxml(bytes, "fuzz.musicxml"));
  if (bytes.substr(0, 2) == "PK") try_score(parse_mxl(bytes, "fuzz.mxl"));
  return 0;
}
