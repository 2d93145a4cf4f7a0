#include "app/sound_command.h"

#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/progress_line.h"
#include "app/sound_data.h"
#include "app/sound_player.h"
#include "app/sound_source.h"
#include "report/report.h"
#include "voice/voice.h"

namespace loftbeat::app {
namespace {

volatile std::sig_atomic_t stop_asked = 0;

void ask_to_stop(int /*signal*/) { stop_asked = 1; }

void say(const std::string& text) { std::fputs((report::clean_text(text) + "\n").c_str(), stderr); }

// Told once; a file in the user's state folder remembers it.
void caution() {
  namespace fs = std::filesystem;
  const char* state = std::getenv("XDG_STATE_HOME");
  const char* home = std::getenv("HOME");
  fs::path folder;
  if (state != nullptr && *state != '\0') {
    folder = state;
  } else if (home != nullptr) {
    folder = fs::path(home) / ".local" / "state";
  }
  const fs::path told = folder / "loftbeat" / "cautioned";
  std::error_code trouble;
  if (!folder.empty() && fs::exists(told, trouble)) return;
  say("Caution: turn the volume low before you listen, above all with headphones. Full organ is");
  say("loud; it begins softly and rises within a second to what it will be. Ctrl-C silences "
      "everything.");
  if (folder.empty()) return;
  fs::create_directories(told.parent_path(), trouble);
  std::ofstream(told) << "The caution about volume has been told.\n";
}

int list_devices() {
  const Result<std::vector<voice::Device>> devices = voice::sound_devices();
  if (!devices) return fail(devices.error());
  if (devices->empty()) say("There is no sound device with two channels.");
  for (const voice::Device& device : *devices)
    std::printf("%s%s\n", report::clean_text(device.name).c_str(),
                device.is_default ? "  (default)" : "");
  return kReviewed;
}

int write_file(const SoundOrder& order, const SoundSource& source, voice::rt::Player& player) {
  ProgressLine line;
  const auto progress = [&](double share) {
    line.show(bar_text(share));
    return stop_asked == 0;
  };
  const auto rendered =
      voice::render_to_file(player, source.performance.frames, order.to_path, progress);
  if (!rendered) return fail(rendered.error());
  line.show("");
  if (rendered->peak <= 0)
    say("Nothing sounded: no stop that is drawn speaks on the keys that are played.");
  const double held = 20 * std::log10(static_cast<double>(rendered->least_gain));
  std::printf(
      "%s: %s, peak %.1f dB of full scale%s\n", report::clean_text(order.to_path).c_str(),
      clock_text(voice::seconds_from_frames(rendered->frames)).c_str(),
      20 * std::log10(rendered->peak + 1e-10),
      held < -0.05 ? fmt::format("; the limiter held back up to {:.1f} dB", -held).c_str() : "");
  return kReviewed;
}

std::string place_at(const voice::Performance& performance, std::int64_t frame) {
  const voice::Mark* here = nullptr;
  for (const voice::Mark& mark : performance.marks) {
    if (mark.frame > frame) break;
    here = &mark;
  }
  if (here == nullptr) return "";
  const bool verse = !here->pass.empty() && here->pass.front() >= '0' && here->pass.front() <= '9';
  return fmt::format("{}{}, bar {}   ", verse ? "verse " : "", here->pass, here->bar);
}

int play_it(const SoundOrder& order, const SoundSource& source, voice::rt::Player& player) {
  caution();
  ProgressLine line;
  voice::PlaybackOrder playback;
  playback.device = order.device;
  playback.frames = source.loop_frames > 0 ? 0 : source.performance.frames;
  playback.state = [&](const voice::PlaybackState& state) {
    const std::int64_t frame =
        source.loop_frames > 0 ? state.frame % source.loop_frames : state.frame;
    const double held = -20 * std::log10(static_cast<double>(state.least_gain));
    line.show(place_at(source.performance, frame) + clock_text(voice::seconds_from_frames(frame)) +
              " of " + clock_text(voice::seconds_from_frames(source.performance.frames)) +
              (held > 0.05 ? fmt::format("   limiter -{:.1f} dB", held) : ""));
    return stop_asked == 0;
  };
  const Result<voice::Played> played = voice::play(player, playback);
  line.show("");
  if (!played) return fail(played.error());
  if (played->underflows > 0)
    say(fmt::format("The sound device had to wait {} times: the computer was too busy.",
                    played->underflows));
  return kReviewed;
}

}  // namespace

int run_sound(const SoundOrder& order) {
  if (order.list_devices) return list_devices();
  std::signal(SIGINT, ask_to_stop);
  std::signal(SIGTERM, ask_to_stop);
  const Result<SoundData> data = read_sound_data(order);
  if (!data) return fail(data.error());
  const Result<SoundSource> source = sound_source(order, *data);
  if (!source) return fail(source.error());
  for (const Notice& notice : source->performance.notices) say(to_string(notice));
  Result<std::unique_ptr<voice::rt::Player>> player = player_for(order, *data);
  if (!player) return fail(player.error());
  (*player)->play(source->performance.events, source->loop_frames);
  return order.to_path.empty() ? play_it(order, *source, **player)
                               : write_file(order, *source, **player);
}

}  // namespace loftbeat::app
