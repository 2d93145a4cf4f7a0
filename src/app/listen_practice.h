#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "app/listen_face.h"
#include "app/listen_singers.h"
#include "app/listen_sound.h"
#include "app/listen_source.h"
#include "app/listen_stops.h"
#include "app/listen_work.h"
#include "practice/session_folder.h"

namespace loftbeat::app {

// Everything that one practice after another uses.
struct ListenPlace {
  const ListenOrder* order = nullptr;  // these may not be null
  const ListenWork* work = nullptr;
  ListenSource* source = nullptr;
  ListenFace* face = nullptr;
  ListenSound* sound = nullptr;      // null: nothing sounds
  ListenStops* stops = nullptr;      // null: no organ
  ListenSingers* singers = nullptr;  // null: nobody sings along; with `sound` only
  live::ClickMode click = live::ClickMode::off;
};

// One time through, as it went.
struct ListenOutcome {
  take::Take take;  // as kept
  practice::SessionFolder folder;
  enum class Ended { by_player, by_silence, interrupted } ended = Ended::by_silence;
  // When the first note was due on the take's clock; nothing if nobody was counted in.
  std::optional<double> first_note_s;
  bool kept = false;  // false: nothing was played, and the folder is gone
};

// Cold: at once, and the day's first try, which is kept apart.
enum class Begin { counted_in, at_once, cold };

// Says `greeting` when it listens, waits for the player, counts in, listens, and keeps what was
// played. Errors: the system refuses (what was played is then put where there is room, and that is
// said).
[[nodiscard]] Result<ListenOutcome> practise_once(const ListenPlace& place, Begin begin,
                                                  const std::string& greeting);

// Ctrl-C ends the practice, which is kept all the same.
void watch_interrupts();
[[nodiscard]] bool interrupted();

}  // namespace loftbeat::app
