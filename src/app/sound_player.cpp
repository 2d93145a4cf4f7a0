#include "app/sound_player.h"

#include "voice/voice.h"

namespace loftbeat::app {
namespace {

constexpr std::size_t kFramesForFiles = 8192;
constexpr std::size_t kFramesForPlaying = 128;

}  // namespace

Result<std::unique_ptr<voice::rt::Player>> player_for(const SoundOrder& order,
                                                      const SoundData& data) {
  const bool file = !order.to_path.empty();
  voice::InstrumentOrder instrument;
  instrument.organ = &data.organ;
  instrument.recipes = &data.recipes;
  instrument.soundfont = data.soundfont;
  instrument.church = data.church ? &*data.church : nullptr;
  instrument.people = data.people;
  instrument.quantum = file ? kFramesForFiles : kFramesForPlaying;
  instrument.volume_db = order.volume_db;
  instrument.quiet_start_db = file ? 0 : kQuietStartDb;
  return voice::make_player(instrument);
}

}  // namespace loftbeat::app
