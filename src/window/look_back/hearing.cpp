#include "window/look_back/hearing.h"

#include <utility>

#include <QCoreApplication>

#include "app/sound_data.h"
#include "app/sound_player.h"
#include "app/sound_source.h"
#include "plan/read.h"
#include "voice/voice.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

constexpr int kTellEvery = 90;  // ms

std::string hint_words(const char* text) {
  return QCoreApplication::translate("look back", text).toStdString();
}

constexpr const char* kStopsHint = "Choose other stops, or an organ for this hymn in “Prepare”.";
constexpr const char* kDeviceHint =
    "Connect loudspeakers or headphones, switch them on, and try again.";

app::SoundOrder sound_order(const HearOrder& order) {
  app::SoundOrder sound;
  sound.plan_path = order.plan_path;
  sound.take_path = order.take_path;
  sound.stops = order.stops;
  sound.couplers = order.couplers;
  sound.to_path = order.to_path;
  if (order.from_s > 0) sound.from_seconds = order.from_s;
  return sound;
}

Result<std::string> play_out(voice::rt::Player& player, std::int64_t frames, WorkState& state,
                             std::atomic<std::int64_t>& frame) {
  voice::PlaybackOrder playback;
  playback.frames = frames;
  playback.state = [&](const voice::PlaybackState& now) {
    frame.store(now.frame);
    state.tell(static_cast<double>(now.frame) /
               static_cast<double>(std::max<std::int64_t>(1, frames)));
    return !state.cancelled();
  };
  const Result<voice::Played> played = voice::play(player, playback);
  if (!played) return for_window(played.error(), kDeviceHint);
  return std::string();
}

Result<std::string> render_out(voice::rt::Player& player, std::int64_t frames,
                               const std::string& path, WorkState& state) {
  const auto rendered = voice::render_to_file(player, frames, path, [&](double share) {
    state.tell(share);
    return !state.cancelled();
  });
  if (!rendered) return for_window(rendered.error(), "Is there room on the disk?");
  if (rendered->peak > 0) return std::string();
  return hint_words("Nothing sounded: no stop that is drawn speaks on the keys that are played.");
}

}  // namespace

Result<std::string> sound_take(const HearOrder& order, WorkState& state,
                               std::atomic<std::int64_t>& frame) {
  const app::SoundOrder sound = sound_order(order);
  const Result<plan::Plan> plan = plan::read_plan(order.plan_path);
  if (!plan) return plan.error();
  if (plan->organ_path.empty())
    return Error{ErrorKind::wrong_use,
                 hint_words("The plan of this practice names no organ, so nothing can sound."),
                 "",
                 0,
                 0,
                 hint_words("Choose an organ for this hymn in “Prepare” and play it again.")};
  const Result<app::SoundData> data = app::read_sound_data(sound);
  if (!data) return for_window(data.error(), kStopsHint);
  const Result<app::SoundSource> source = app::sound_source(sound, *data);
  if (!source) return for_window(source.error(), kStopsHint);
  if (state.cancelled()) return std::string();
  auto player = app::player_for(sound, *data);
  if (!player) return for_window(player.error(), kStopsHint);
  if (state.cancelled()) return std::string();
  (*player)->play(source->performance.events);
  auto outcome = order.to_path.empty()
                     ? play_out(**player, source->performance.frames, state, frame)
                     : render_out(**player, source->performance.frames, order.to_path, state);
  if (!outcome || !outcome->empty() || source->performance.notices.empty()) return outcome;
  return to_string(source->performance.notices.front());
}

Hearing::Hearing(QObject* parent) : QObject(parent) {
  timer_.setInterval(kTellEvery);
  connect(&timer_, &QTimer::timeout, this, [this] {
    const std::int64_t frame = frame_ ? frame_->load() : -1;
    if (frame >= 0) emit reached(from_s_ + voice::seconds_from_frames(frame));
  });
  connect(&work_, &LongWork::began, this, [this] {
    timer_.start();
    emit began();
  });
  connect(&work_, &LongWork::ended, this, [this] {
    timer_.stop();
    emit ended();
  });
}

void Hearing::start(const HearOrder& order) {
  frame_ = std::make_shared<std::atomic<std::int64_t>>(-1);
  from_s_ = order.from_s;
  work_.start([this, order, frame = frame_](WorkState& state) -> LongWork::Finish {
    auto outcome = sound_take(order, state, *frame);
    const QString sentence = outcome ? words(*outcome) : words(outcome.error());
    return [this, sentence] {
      if (!sentence.isEmpty()) emit said(sentence);
    };
  });
}

}  // namespace loftbeat::window
