#include "crowd/touch.h"

#include <algorithm>
#include <utility>

namespace loftbeat::crowd {

Tick Touch::end_of(Tick onset, int pitch) const {
  auto note = std::lower_bound(score_.notes.begin(), score_.notes.end(), onset,
                               [](const music::Note& n, Tick at) { return n.onset < at; });
  Tick end = -1;
  for (; note != score_.notes.end() && note->onset == onset; ++note)
    if (note->pitch == pitch) end = std::max(end, note->onset + note->length);
  return end;
}

void Touch::key_down(Instant at, int pitch, const follow::LivePosition& player,
                     int transpose_semitones) {
  if (pitch < 0 || pitch > 127 || !player.in_tune) return;
  for (Key& key : keys_) {
    const bool gone_on = key.pass != player.passes_begun || player.onset >= key.end;
    if (key.end >= 0 && !key.over && gone_on) key.over = at;
  }
  keys_[static_cast<std::size_t>(pitch)] = {end_of(player.onset, pitch - transpose_semitones),
                                            player.passes_begun, std::nullopt};
}

std::optional<Firmness::Touch> Touch::key_up(Instant at, int pitch) {
  if (pitch < 0 || pitch > 127) return std::nullopt;
  const Key key = std::exchange(keys_[static_cast<std::size_t>(pitch)], Key{});
  if (key.end < 0) return std::nullopt;
  const bool smeared = key.over && seconds(at - *key.over) > kSmearSeconds + 1e-9;
  return smeared ? Firmness::Touch::smeared : Firmness::Touch::clear;
}

}  // namespace loftbeat::crowd
