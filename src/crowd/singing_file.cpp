#include "crowd/singing_file.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "voice/render.h"
#include "voice/rt/limiter.h"
#include "voice/sound_file.h"

namespace loftbeat::crowd {
namespace {

constexpr std::size_t kAtOnce = 1024;
constexpr float kCeiling = 0.891F;  // -1 dB

std::int64_t frame_heard(const SungEvent& event) {
  return static_cast<std::int64_t>(std::llround(seconds(event.heard) * rt::kSampleRate));
}

// Hands over what falls due in the next frames, as far as the queue takes it.
std::size_t hand_over(std::span<const SungEvent> events, std::int64_t until, rt::Choir& choir) {
  std::size_t count = 0;
  while (count < events.size() && frame_heard(events[count]) <= until + rt::kLeadFrames) {
    const SungEvent& event = events[count];
    const rt::Sing what = event.what == SungEvent::What::note ? rt::Sing::note : rt::Sing::silence;
    if (!choir.post({frame_heard(event), what, static_cast<std::uint8_t>(event.pitch), 0})) break;
    ++count;
  }
  return count;
}

}  // namespace

Result<SingingWritten> write_singing(std::span<const SungEvent> events, const ChoirOrder& order,
                                     const std::string& path) {
  if (events.empty()) return Error{ErrorKind::wrong_use, "nothing was sung", path};
  const std::int64_t whole = frame_heard(events.back()) + std::int64_t{2} * rt::kSampleRate;
  if (whole > voice::kMostFrames)
    return Error{ErrorKind::too_large, "the singing is longer than two hours", path};
  auto file = voice::SoundFile::create(path);
  if (!file) return file.error();
  rt::Choir choir(make_choir(order));
  voice::rt::Limiter limiter(kCeiling);
  std::array<float, kAtOnce> left{};
  std::array<float, kAtOnce> right{};
  SingingWritten written;
  // What the limiter holds back in the beginning is cut off.
  std::size_t skip = voice::rt::Limiter::kDelayFrames;
  for (std::int64_t at = 0; written.frames < whole; at += static_cast<std::int64_t>(kAtOnce)) {
    events = events.subspan(hand_over(events, at + static_cast<std::int64_t>(kAtOnce), choir));
    left.fill(0);
    right.fill(0);
    choir.render(left.data(), right.data(), kAtOnce);
    limiter.process(left.data(), right.data(), kAtOnce);
    const std::size_t count =
        std::min<std::size_t>(kAtOnce - skip, static_cast<std::size_t>(whole - written.frames));
    for (std::size_t i = skip; i < skip + count; ++i)
      written.peak = std::max({written.peak, std::abs(static_cast<double>(left[i])),
                               std::abs(static_cast<double>(right[i]))});
    if (const Status ok = file->write(left.data() + skip, right.data() + skip, count); !ok)
      return ok.error();
    written.frames += static_cast<std::int64_t>(count);
    skip = 0;
  }
  if (const Status ok = file->close(); !ok) return ok.error();
  return written;
}

}  // namespace loftbeat::crowd
