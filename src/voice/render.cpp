#include "voice/render.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "voice/sound_file.h"

namespace loftbeat::voice {
namespace {

constexpr std::size_t kStep = kMostFramesAtOnce;
constexpr float kInaudible = 1e-5F;            // -100 dB of full scale
constexpr std::int64_t kQuietFrames = 12'000;  // a quarter of a second of it
constexpr std::int64_t kReleaseFrames = 144'000;

float peak_of(const std::vector<float>& samples) {
  float peak = 0;
  for (const float sample : samples) peak = std::max(peak, std::abs(sample));
  return peak;
}

}  // namespace

Result<Rendered> render_to_file(rt::Player& player, std::int64_t frames, const std::string& path,
                                const Progress& progress) {
  if (frames > kMostFrames) {
    return Error{ErrorKind::too_large,
                 "there are more than two hours to render.",
                 "",
                 0,
                 0,
                 "Choose a pass with --pass, or a part with --from."};
  }
  Result<SoundFile> file = SoundFile::create(path);
  if (!file) return file.error();
  std::vector<float> left(kStep);
  std::vector<float> right(kStep);
  const std::size_t delay = player.delay_frames();
  if (delay > 0) player.render(left.data(), right.data(), delay);
  const std::int64_t longest =
      frames + static_cast<std::int64_t>(player.tail_frames()) + kReleaseFrames;
  Rendered rendered;
  std::int64_t quiet = 0;
  while (rendered.frames < longest && quiet < kQuietFrames) {
    const std::int64_t rest =
        rendered.frames < frames ? frames - rendered.frames : static_cast<std::int64_t>(kStep);
    const auto some = static_cast<std::size_t>(std::min<std::int64_t>(rest, kStep));
    std::fill(left.begin(), left.end(), 0.0F);
    std::fill(right.begin(), right.end(), 0.0F);
    player.render(left.data(), right.data(), some);
    if (Status status = file->write(left.data(), right.data(), some); !status)
      return status.error();
    const float peak = std::max(peak_of(left), peak_of(right));
    const bool over = rendered.frames >= frames;
    quiet = over && peak < kInaudible ? quiet + static_cast<std::int64_t>(some) : 0;
    rendered.peak = std::max(rendered.peak, static_cast<double>(peak));
    rendered.frames += static_cast<std::int64_t>(some);
    const double share = static_cast<double>(rendered.frames) / static_cast<double>(longest);
    if (progress && !progress(std::min(1.0, share)))
      return Error{ErrorKind::failed, "given up.", path, 0, 0, ""};
  }
  if (Status status = file->close(); !status) return status.error();
  rendered.least_gain = player.take_least_gain();
  return rendered;
}

}  // namespace loftbeat::voice
