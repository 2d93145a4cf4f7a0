#include "app/listen_sound.h"

#include <utility>

#include <fmt/format.h>

#include "app/listen_stops.h"
#include "report/utf8.h"
#include "voice/instrument.h"

namespace loftbeat::app {
namespace {

constexpr double kQuietStartDb = 30;

Result<std::unique_ptr<voice::rt::Player>> ranks_of(const ListenOrder& listen,
                                                    const SoundData& data) {
  voice::InstrumentOrder order;
  order.organ = &data.organ;
  order.recipes = &data.recipes;
  order.soundfont = data.soundfont;
  order.church = data.church ? &*data.church : nullptr;
  order.people = data.people;
  order.limiter = voice::rt::LimiterUse::off;  // the stage limits the sum
  order.volume_db = listen.volume_db;
  order.quiet_start_db = kQuietStartDb;
  return voice::make_player(order);
}

}  // namespace

Result<std::unique_ptr<ListenSound>> ListenSound::open(Order order) {
  std::unique_ptr<ListenSound> sound(new ListenSound);
  live::rt::StageSpec spec;
  spec.queues = std::move(order.queues);
  spec.clicks = std::move(order.clicks);
  spec.click_db = order.listen->click_db;
  spec.added = std::move(order.added);
  if (order.ranks != nullptr) {
    auto player = ranks_of(*order.listen, *order.ranks);
    if (!player) return player.error();
    spec.player = std::move(*player);
    spec.keys = key_table(order.ranks->organ);
  }
  sound->stage_ = std::make_unique<live::rt::Stage>(std::move(spec));
  auto stream = voice::SoundStream::open({order.listen->device, 0}, *sound);
  if (!stream) return stream.error();
  sound->stream_ = std::move(*stream);
  return sound;
}

ListenSound::~ListenSound() = default;

void ListenSound::silence() {
  static_cast<void>(stage_->post({0, voice::rt::Act::silence_everything, 0, 0, 0}));
}

std::string ListenSound::device_words() const {
  return fmt::format("{}, {:.1f} ms", report::clean_text(stream_->device()),
                     1000 * stream_->latency_seconds());
}

void ListenSound::render(float* left, float* right, std::size_t frames, std::int64_t now_ns) {
  stage_->render(left, right, frames, now_ns);
}

}  // namespace loftbeat::app
