#pragma once

#include <functional>
#include <memory>
#include <string>

#include "app/sound_data.h"
#include "app/sound_source.h"
#include "window/desk/long_work.h"

namespace loftbeat::window {

// What is to be heard, made ready: what plays, and on which organ in which church.
struct Playable {
  app::SoundData data;
  app::SoundSource source;
};

// Plays through the ranks, out of the system's sound device, one thing at a time: begins quietly,
// and can be silenced at once. The window's thread; the rest happens beside it.
class Sounding : public QObject {
  Q_OBJECT

 public:
  explicit Sounding(QObject* parent = nullptr);

  // `make` runs in another thread (reading and laying out may take a second). What sounded before
  // falls silent. `volume_db`: -60 to 0.
  void play(std::function<Result<Playable>()> make, double volume_db);
  void silence() { work_.cancel(); }
  [[nodiscard]] bool sounds() const { return work_.runs(); }

 signals:
  void began();
  void ended();                         // or silenced
  void troubled(const QString& words);  // no device, say; with what to do
  void reached(double seconds);         // some 20 times a second

 private:
  LongWork work_;
};

// The plan as it stands, some of it: a pass by its label, and within it a phrase (from 1; 0: all).
[[nodiscard]] Result<Playable> playable_of(const plan::Plan& plan, const std::string& pass,
                                           int phrase);

// The last line before a verse, the join, and the verse's first line. Errors also: no verse.
[[nodiscard]] Result<Playable> playable_join(const plan::Plan& plan, const std::string& verse);

}  // namespace loftbeat::window
