#include "follow/texture.h"

namespace loftbeat::follow {
namespace {

constexpr double kSounded = 1.0 / 3.0;

double share(int part, int whole) {
  return whole > 0 ? static_cast<double>(part) / static_cast<double>(whole) : 0.0;
}

double sounded_share(const VoiceCount& voice) {
  return share(voice.exact + voice.octave_up + voice.octave_other, voice.written);
}

// What stands of all voices below the tune, exact only: a free bass meets pitch classes by chance.
VoiceCount below_tune(const TextureEvidence& evidence) {
  VoiceCount sum;
  for (std::size_t v = 1; v < evidence.voices.size(); ++v) {
    sum.written += evidence.voices[v].written;
    sum.exact += evidence.voices[v].exact;
  }
  return sum;
}

bool inner_voice_sounds(const std::vector<bool>& sounded) {
  for (std::size_t v = 1; v + 1 < sounded.size(); ++v) {
    if (sounded[v]) return true;
  }
  return false;
}

}  // namespace

Dress judge_texture(const TextureEvidence& evidence) {
  Dress dress;
  for (const VoiceCount& voice : evidence.voices) {
    dress.voices_sounded.push_back(sounded_share(voice) >= kSounded);
    dress.octaves.push_back(share(voice.octave_other, voice.written) >= 0.25);
  }
  if (evidence.voices.empty()) return dress;
  const VoiceCount& tune = evidence.voices.front();
  const VoiceCount below = below_tune(evidence);
  const bool tune_sounds = dress.voices_sounded.front();
  const bool several = below.written > 0;
  const double others = share(evidence.others, evidence.chords);
  const double up = share(tune.octave_up, tune.written);

  const bool tune_up = up >= 0.6 && up > share(tune.exact, tune.written) + 0.1;
  const bool unison = several && tune_sounds &&
                      share(evidence.tune_like, evidence.played) >= 0.75 &&
                      share(evidence.tune_doubled, tune.written) >= kSounded;
  const bool free_harmony =
      several && tune_sounds && !unison && others >= 0.5 && share(below.exact, below.written) < 0.7;
  if (unison || free_harmony) {
    for (std::size_t v = 1; v < dress.voices_sounded.size(); ++v) dress.voices_sounded[v] = false;
  }
  if (free_harmony) dress.octaves.assign(dress.octaves.size(), false);
  if (unison || tune_up) dress.octaves.front() = true;
  const bool no_pedal = !unison && !free_harmony && evidence.voices.size() >= 3 &&
                        !dress.voices_sounded.back() && inner_voice_sounds(dress.voices_sounded);
  const bool fuller = !unison && !free_harmony && others >= 1.0 / 3.0;
  if (tune_up) dress.textures.push_back(plan::Texture::tune_up_octave);
  if (no_pedal) dress.textures.push_back(plan::Texture::no_pedal);
  if (fuller) dress.textures.push_back(plan::Texture::fuller);
  if (unison) dress.textures.push_back(plan::Texture::unison);
  if (free_harmony) dress.textures.push_back(plan::Texture::free_harmony);
  if (dress.textures.empty()) dress.textures.push_back(plan::Texture::as_written);
  return dress;
}

}  // namespace loftbeat::follow
