#include "window/keys/input_words.h"

#include <QCoreApplication>

#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

// So long without a message before any came one wonders whether the keyboard is heard at all.
constexpr double kWondering = 6;

QString told(const char* text) { return QCoreApplication::translate("KeysPlace", text); }

}  // namespace

QString input_words(const PracticeSight& sight, std::optional<double> quiet_s) {
  using State = PracticeSight::State;
  if (sight.state == State::closed)
    return told(QT_TRANSLATE_NOOP("KeysPlace", "Keyboard: not listened to yet."));
  if (sight.state == State::opening)
    return told(QT_TRANSLATE_NOOP("KeysPlace", "Keyboard: being looked for."));
  if (sight.is_replay) return told(QT_TRANSLATE_NOOP("KeysPlace", "A simulated player plays."));
  const QString names = words(sight.inputs);
  if (sight.messages > 0)
    return told(QT_TRANSLATE_NOOP("KeysPlace", "Keyboard: %1 is heard.")).arg(names);
  if (quiet_s && *quiet_s > kWondering)
    return told(QT_TRANSLATE_NOOP("KeysPlace",
                                  "Nothing has come from %1. Is it switched on, and its cable in? "
                                  "Does it send MIDI? Else choose another keyboard below."))
        .arg(names);
  return told(QT_TRANSLATE_NOOP("KeysPlace", "Keyboard: %1. Press a key to try it.")).arg(names);
}

}  // namespace loftbeat::window
