#include "crowd/rt/choir.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loftbeat::crowd::rt {
namespace {

constexpr double kTwoPi = 6.283185307179586;
constexpr std::uint32_t kFractionBits = 21;  // of a phase, below the 11 that index the wave
constexpr float kFraction = 1.0F / static_cast<float>(1U << kFractionBits);

int within_range(int pitch) {
  while (pitch < kLowestPitch) pitch += 12;
  while (pitch > kHighestPitch) pitch -= 12;
  return pitch;
}

std::int64_t frames_of(double seconds) {
  return static_cast<std::int64_t>(std::llround(seconds * kSampleRate));
}

}  // namespace

Choir::Choir(ChoirSpec spec)
    : voices_(std::move(spec.voices)),
      note_scatter_s_(spec.note_scatter_s),
      chance_(spec.seed),
      gain_(std::pow(10.0, kQuietStartDb / 20)) {
  singers_.resize(spec.persons.size());
  for (std::size_t i = 0; i < singers_.size(); ++i) {
    singers_[i].person = spec.persons[i];
    singers_[i].vibrato = chance_.unit();
  }
}

void Choir::tell_all(std::int64_t middle, int pitch) {
  for (Singer& singer : singers_) {
    const std::int64_t late = frames_of(singer.person.late_s + note_scatter_s_ * chance_.normal());
    singer.begin = middle - kLeadFrames +
                   std::clamp(kMostScatterFrames / 2 + late, std::int64_t{0}, kMostScatterFrames);
    singer.pitch = pitch;
    singer.waiting = true;
  }
}

void Choir::take_events() {
  while (const Event* event = queue_.front()) {
    if (event->what == Sing::volume) {
      if (event->frame > now_) return;
      wanted_db_ =
          std::clamp(static_cast<double>(event->value), static_cast<double>(kSilentDb), 40.0);
    } else {
      if (event->frame - kLeadFrames > now_) return;
      tell_all(event->frame, event->what == Sing::note ? event->pitch : -1);
    }
    queue_.pop();
  }
}

// A new tone begins only where the one before the last has died away, so nothing is cut off.
void Choir::begin_due(Singer& singer) {
  if (!singer.waiting || singer.begin > now_) return;
  Tone& other = singer.tones[1 - singer.current];
  if (singer.pitch >= 0 && other.wave != nullptr) return;
  singer.waiting = false;
  singer.tones[singer.current].slope = -1.0F / static_cast<float>(kDieFrames);
  if (singer.pitch < 0) return;
  singer.current = 1 - singer.current;
  const int sung = within_range(singer.pitch + 12 * singer.person.octave);
  const double hz = 440 * std::exp2((sung - 69) / 12.0 + singer.person.cents / 1200);
  other.wave = &voices_[singer.person.voice][static_cast<std::size_t>(sung - kLowestPitch)];
  other.phase = static_cast<std::uint32_t>(chance_.unit() * 0x1p32);
  other.turns = hz / kSampleRate;
  other.swell = 0;
  other.slope = 1.0F / static_cast<float>(kSwellFrames);
}

void Choir::sing(Tone& tone, const Person& person, double bend) {
  if (tone.wave == nullptr) return;
  const auto step = static_cast<std::uint32_t>(tone.turns * bend * 0x1p32);
  const auto left = static_cast<float>(person.left);
  const auto right = static_cast<float>(person.right);
  const Wave& wave = *tone.wave;
  for (std::size_t i = 0; i < kStepFrames; ++i) {
    const std::size_t at = tone.phase >> kFractionBits;
    const float part = static_cast<float>(tone.phase & ((1U << kFractionBits) - 1)) * kFraction;
    tone.swell = std::clamp(tone.swell + tone.slope, 0.0F, 1.0F);
    const float loud = tone.swell * tone.swell * (3 - 2 * tone.swell);
    const float sample = loud * (wave[at] + part * (wave[at + 1] - wave[at]));
    left_[i] += left * sample;
    right_[i] += right * sample;
    tone.phase += step;
  }
  if (tone.swell <= 0 && tone.slope < 0) tone.wave = nullptr;
}

void Choir::sing(Singer& singer) {
  begin_due(singer);
  const Person& person = singer.person;
  const double sway = person.vibrato_cents * std::sin(kTwoPi * singer.vibrato);
  // 2^(c/1200) to first and second order: off by 1e-8 at 50 cents.
  const double x = sway * 0.000577622650466621;
  const double bend = 1 + x + x * x / 2;
  for (Tone& tone : singer.tones) sing(tone, person, bend);
  singer.vibrato += person.vibrato_hz * static_cast<double>(kStepFrames) / kSampleRate;
  singer.vibrato -= std::floor(singer.vibrato);
}

void Choir::move_volume() {
  const double most = kVolumeDbPerSecond * static_cast<double>(kStepFrames) / kSampleRate;
  reached_db_ += std::clamp(wanted_db_ - reached_db_, -most, most);
  const double gain =
      reached_db_ <= static_cast<double>(kSilentDb) ? 0.0 : std::pow(10.0, reached_db_ / 20);
  const double slope = (gain - gain_) / static_cast<double>(kStepFrames);
  for (std::size_t i = 0; i < kStepFrames; ++i) {
    const auto now = static_cast<float>(gain_ + slope * static_cast<double>(i + 1));
    left_[i] *= now;
    right_[i] *= now;
  }
  gain_ = gain;
}

void Choir::render_step() {
  left_.fill(0);
  right_.fill(0);
  take_events();
  for (Singer& singer : singers_) sing(singer);
  move_volume();
  now_ += static_cast<std::int64_t>(kStepFrames);
}

void Choir::render(float* left, float* right, std::size_t frames) {
  for (std::size_t done = 0; done < frames;) {
    if (ready_ == kStepFrames) {
      render_step();
      ready_ = 0;
    }
    const std::size_t count = std::min(frames - done, kStepFrames - ready_);
    for (std::size_t i = 0; i < count; ++i) {
      left[done + i] += left_[ready_ + i];
      right[done + i] += right_[ready_ + i];
    }
    done += count;
    ready_ += count;
  }
  next_ += static_cast<std::int64_t>(frames);
  told_frames_.store(next_, std::memory_order_relaxed);
}

void Choir::render_from(std::int64_t first, float* left, float* right, std::size_t frames) {
  if (first != next_) {
    next_ = first;
    now_ = first;
    ready_ = kStepFrames;
    // Counting anew from an earlier frame must leave nobody waiting for a later one.
    for (Singer& singer : singers_)
      singer.begin = std::min(singer.begin, now_ + kLeadFrames + kMostScatterFrames);
  }
  render(left, right, frames);
}

}  // namespace loftbeat::crowd::rt
