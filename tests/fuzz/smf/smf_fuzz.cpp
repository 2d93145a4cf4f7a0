#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "music/read.h"
#include "music/smf_file.h"
#include "take/hygiene.h"
#include "take/smf_take.h"

// Any bytes as a MIDI file: as it stands, as a take that is cleaned, and as a score. What is read
// must keep the promises of the headers and survive being written and read again.

namespace {

void need(bool promise) {
  if (!promise) std::abort();
}

void try_file(std::string_view bytes) {
  const auto file = loftbeat::music::parse_smf(bytes, "fuzz.mid");
  if (!file.ok()) return;
  need(loftbeat::music::parse_smf(loftbeat::music::format_smf(*file), "again.mid").ok());
}

void try_take(std::string_view bytes) {
  const auto take = loftbeat::take::parse_take(bytes, "fuzz.mid");
  if (!take.ok()) return;
  for (std::size_t i = 1; i < take->events.size(); ++i) {
    need(take->events[i - 1].at <= take->events[i].at);
  }
  const auto again = loftbeat::take::parse_take(loftbeat::take::format_take(*take), "again.mid");
  need(again.ok() && again->events.size() == take->events.size());
  for (const auto& note : loftbeat::take::clean(*take).notes) {
    need(note.on <= note.off && note.off <= note.sound_off && note.channels != 0);
  }
}

void try_score(std::string_view bytes) {
  const auto read = loftbeat::music::parse_smf_score(bytes, "fuzz.mid");
  if (!read.ok()) return;
  loftbeat::Tick at = 0;
  for (const auto& bar : read->score.bars) {
    need(bar.start == at && bar.length > 0);
    at += bar.length;
  }
  need(read->score.length == at);
  for (const auto& note : read->score.notes) {
    need(note.length > 0 && note.onset >= 0 && note.onset < at);
    need(note.voice >= 0 && note.voice < read->score.voices);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  try_file(bytes);
  try_take(bytes);
  try_score(bytes);
  return 0;
}
