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
  int tune_doubled = 0;            // of those, an octave off the tune's note just struck
  int chords = 0;                  // onsets struck
};

struct Dress {
  std::vector<plan::Texture> textures;
  std::vector<bool> voices_sounded;
};

// Rules, each a share of what was written: a voice sounded if at least a third of it was matched;
// tune up an octave if half of it is; without pedal if the lowest of three voices or more did not
// sound while another did; unison if nothing but the tune sounded and it was doubled or alone; free
// harmony if the tune stands but less than half of the rest does while as many other notes were
// struck; fuller if other notes come to a third of a note a chord or more.
[[nodiscard]] Dress judge_texture(const TextureEvidence& evidence);

}  // namespace loftbeat::follow
