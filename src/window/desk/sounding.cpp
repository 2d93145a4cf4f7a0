#include "window/desk/sounding.h"

#include <utility>

#include "app/sound_player.h"
#include "music/read.h"
#include "practice/drill.h"
#include "voice/playback.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

constexpr const char* kDeviceHint =
    QT_TRANSLATE_NOOP("desk", "Connect loudspeakers or headphones, switch them on, and try again.");

}  // namespace
Sounding::Sounding(QObject* parent) : QObject(parent) {
  connect(&work_, &LongWork::began, this, &Sounding::began);
  connect(&work_, &LongWork::ended, this, &Sounding::ended);
}

void Sounding::play(std::function<Result<Playable>()> make, double volume_db) {
  work_.start([this, make = std::move(make), volume_db](WorkState& state) -> LongWork::Finish {
    const auto told = [this](const Error& error) {
      return [this, text = words(error)] { emit troubled(text); };
    };
    const auto playable = make();
    if (!playable) return told(playable.error());
    app::SoundOrder order;
    order.volume_db = volume_db;
    auto player = app::player_for(order, playable->data);
    if (!player) return told(player.error());
    (*player)->play(playable->source.performance.events, playable->source.loop_frames);
    voice::PlaybackOrder playback;
    playback.frames = playable->source.loop_frames > 0 ? 0 : playable->source.performance.frames;
    playback.state = [this, &state](const voice::PlaybackState& now) {
      const double seconds = static_cast<double>(now.frame) / voice::rt::kSampleRate;
      QMetaObject::invokeMethod(
          this, [this, seconds] { emit reached(seconds); }, Qt::QueuedConnection);
      return !state.cancelled();
    };
    const auto played = voice::play(**player, playback);
    if (!played) return told(for_window(played.error(), kDeviceHint));
    return {};
  });
}

Result<Playable> playable_of(const plan::Plan& plan, const std::string& pass, int phrase) {
  app::SoundOrder order;
  order.plan_path = plan.file;
  order.pass = pass;
  if (phrase > 0) order.loop_phrase = phrase;
  auto data = app::sound_data_of(order, plan);
  if (!data) return data.error();
  auto source = app::sound_source(order, *data);
  if (!source) return source.error();
  source->loop_frames = 0;  // once is enough
  return Playable{std::move(*data), std::move(*source)};
}

Result<Playable> playable_join(const plan::Plan& plan, const std::string& verse) {
  const auto score = music::read_score(plan.score_path);
  if (!score) return score.error();
  const bool is_verse = !verse.empty() && verse.front() >= '0' && verse.front() <= '9';
  const int number = is_verse ? QString::fromStdString(verse).toInt() : 0;
  if (number < 2)
    return Error{ErrorKind::no_fit,
                 "before this pass there is no join of two verses.",
                 "",
                 0,
                 0,
                 "Choose verse 2 or a later one."};
  auto drill =
      practice::join_drill(app::settled_plan(plan, score->score), score->score, number - 1);
  if (!drill) return drill.error();
  return playable_of(drill->plan, "", 0);
}

}  // namespace loftbeat::window
