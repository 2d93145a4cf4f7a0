#include "advise/free_hand.h"

#include <algorithm>

namespace loftbeat::advise {
namespace {

using plan::Texture;

bool has(const plan::RoutePass& pass, Texture texture) {
  return std::find(pass.textures.begin(), pass.textures.end(), texture) != pass.textures.end();
}

std::vector<music::Note> sounding_at(const music::Score& score, Tick at) {
  std::vector<music::Note> sounding;
  for (const music::Note& note : score.notes) {
    if (note.onset > at) break;
    if (at < note.onset + note.length) sounding.push_back(note);
  }
  return sounding;
}

// Keys of the hands, rising, each once.
std::vector<int> keys_in_hands(std::vector<music::Note> notes, const plan::RoutePass& pass) {
  if (notes.empty()) return {};
  int lowest_voice = 0;
  int topmost_voice = notes.front().voice;
  for (const music::Note& note : notes) {
    lowest_voice = std::max(lowest_voice, note.voice);
    topmost_voice = std::min(topmost_voice, note.voice);
  }
  const bool unison = has(pass, Texture::unison);
  const bool pedal = !has(pass, Texture::no_pedal) && lowest_voice > topmost_voice;
  std::vector<int> keys;
  for (const music::Note& note : notes) {
    const bool tune = note.voice == topmost_voice;
    if (unison ? !tune : pedal && note.voice == lowest_voice) continue;
    const int up = tune && has(pass, Texture::tune_up_octave) ? 12 : 0;
    keys.push_back(note.pitch + up + pass.transpose_semitones);
  }
  std::sort(keys.begin(), keys.end());
  keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
  return keys;
}

Tick onset_in(const music::Score& score, TickSpan span, bool last) {
  Tick found = -1;
  for (const music::Note& note : score.notes) {
    if (!span.contains(note.onset)) continue;
    found = note.onset;
    if (!last) break;
  }
  return found;
}

FreeHand both_free() {
  FreeHand free;
  free.left = free.right = true;
  return free;
}

}  // namespace

FreeHand free_hand_at(const music::Score& score, Tick at, const plan::RoutePass& pass,
                      int stretch) {
  if (pass.unaccompanied) return both_free();
  FreeHand free;
  free.as_written = !has(pass, Texture::fuller) && !has(pass, Texture::free_harmony);
  free.in_hands = keys_in_hands(sounding_at(score, at), pass);
  if (free.in_hands.empty()) return both_free();
  const int lowest = free.in_hands.front();
  const int highest = free.in_hands.back();
  free.span_semitones = highest - lowest;
  for (const int key : free.in_hands) {
    if (key < highest - stretch || key < kRightHandLowest) free.bind_left.push_back(key);
    if (key > lowest + stretch || key > kLeftHandHighest) free.bind_right.push_back(key);
  }
  free.left = free.bind_left.empty();
  free.right = free.bind_right.empty();
  return free;
}

FreeHand free_hand_at_end(const music::Score& score, const plan::RoutePass& pass, int stretch) {
  if (pass.unaccompanied || pass.spans.empty()) return both_free();
  return free_hand_at(score, onset_in(score, pass.spans.back(), true), pass, stretch);
}

FreeHand free_hand_at_start(const music::Score& score, const plan::RoutePass& pass, int stretch) {
  if (pass.unaccompanied || pass.spans.empty()) return both_free();
  return free_hand_at(score, onset_in(score, pass.spans.front(), false), pass, stretch);
}

}  // namespace loftbeat::advise
