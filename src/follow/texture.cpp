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

}  // namespace

Dress judge_texture(const TextureEvidence& evidence) {
  Dress dress;
  for (const VoiceCount& voice : evidence.voices) {
    dress.voices_sounded.push_back(sounded_share(voice) >= kSounded);
  }
  if (evidence.voices.empty()) return dress;
  const VoiceCount& tune = evidence.voices.front();
  const VoiceCount below = below_tune(evidence);
  const bool tune_sounds = dress.voices_sounded.front();
  const double others = share(evidence.others, evidence.chords);
  const double standing = share(below.exact, below.written);
  const bool several = evidence.voices.size() > 1 && below.written > 0;

  const bool free_harmony = several && tune_sounds && standing < 0.5 &&
                            evidence.others - evidence.tune_doubled >= below.exact &&
                            share(evidence.others - evidence.tune_doubled, evidence.chords) > 0.75;
  const bool unison =
      several && tune_sounds && !free_harmony && standing < 0.2 &&
      share(evidence.tune_doubled + tune.octave_other + tune.octave_up, tune.written) >= 0.3;
  if (free_harmony || unison) {
    for (std::size_t v = 1; v < dress.voices_sounded.size(); ++v) dress.voices_sounded[v] = false;
  }
  if (tune_sounds && share(tune.octave_up, tune.written) >= 0.5) {
    dress.textures.push_back(plan::Texture::tune_up_octave);
  }
  if (unison) dress.textures.push_back(plan::Texture::unison);
  if (free_harmony) dress.textures.push_back(plan::Texture::free_harmony);
  if (!unison && !free_harmony && evidence.voices.size() >= 3) {
    bool inner = false;
    for (std::size_t v = 1; v + 1 < dress.voices_sounded.size(); ++v) {
      inner = inner || dress.voices_sounded[v];
    }
    if (!dress.voices_sounded.back() && inner) dress.textures.push_back(plan::Texture::no_pedal);
  }
  if (!unison && !free_harmony && others >= 1.0 / 3.0) {
    dress.textures.push_back(plan::Texture::fuller);
  }
  if (dress.textures.empty()) dress.textures.push_back(plan::Texture::as_written);
  return dress;
}

}  // namespace loftbeat::follow
