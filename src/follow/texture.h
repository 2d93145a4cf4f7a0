#pragma once

#include <vector>

#include "follow/note_match.h"
#include "plan/plan.h"

namespace loftbeat::follow {

// How a pass was really dressed, from what was matched of each voice.
struct VoiceCount {
  int written = 0;  // score notes of the voice in the stretches played
  int exact = 0;    // matched at pitch
  int octave_up = 0;
  int octave_other = 0;
};

struct TextureEvidence {
  std::vector<VoiceCount> voices;  // by voice, 0 = the tune
  int others = 0;                  // notes struck with an onset that match no score note
  int chords = 0;                  // onsets struck
  int played = 0;                  // notes struck with an onset
  int tune_like = 0;               // of those, the tune's note just struck, in any octave
  int tune_doubled = 0;            // of those, in another octave than the tune's
};

struct Dress {
  std::vector<plan::Texture> textures;  // in the order of plan::Texture; as_written if nothing else
  std::vector<bool> voices_sounded;
  std::vector<bool> octaves;  // by voice: it went in another octave often enough to be meant
};

// Rules, each a share of what was written or struck: a voice sounded if at least a third of it was
// matched; tune up an octave if three fifths of it stand there and plainly more than at pitch;
// unison if three quarters of all notes are the tune's and a third of the tune is doubled; free
// harmony if the tune stands but less than seven tenths of the rest, while other notes come to
// half a note a chord; without pedal if the lowest of three voices or more did not sound while an
// inner one did; fuller if other notes come to a third of a note a chord. A voice may be matched in
// other octaves if a quarter of it was (a short pedalboard, say), the tune also in unison.
[[nodiscard]] Dress judge_texture(const TextureEvidence& evidence);

}  // namespace loftbeat::follow
