#include "window/notation/note_words.h"

#include <array>

#include <QCoreApplication>

#include "music/musicxml_spelling.h"
#include "window/notation/written_bar.h"

namespace loftbeat::window {
namespace {

QString say(const char* words) { return QCoreApplication::translate("notation", words); }

QString value_words(std::string_view type) {
  if (type == "breve") return say("double whole note");
  if (type == "whole") return say("whole note");
  if (type == "half") return say("half note");
  if (type == "quarter") return say("quarter note");
  if (type == "eighth") return say("eighth note");
  if (type == "16th") return say("sixteenth note");
  if (type == "32nd") return say("thirty-second note");
  return say("very short note");
}

}  // namespace

QString pitch_words(const music::Score& score, const music::Note& note) {
  const music::SpelledPitch spelt = music::spell(note.pitch, fifths_at(score, note.onset));
  const QString name = QString(QLatin1Char(spelt.step));
  QString alter;
  if (spelt.alter == -2) alter = say("double flat");
  if (spelt.alter == -1) alter = say("flat");
  if (spelt.alter == 1) alter = say("sharp");
  if (spelt.alter == 2) alter = say("double sharp");
  return alter.isEmpty() ? QStringLiteral("%1 %2").arg(name).arg(spelt.octave)
                         : QStringLiteral("%1 %2 %3").arg(name, alter).arg(spelt.octave);
}

QString length_words(Tick length) {
  const auto value = music::note_value(length);
  if (!value) return say("%1 quarter notes").arg(quarters(length));
  QString words = value_words(value->type);
  if (value->dots == 1) words = say("dotted %1").arg(words);
  if (value->dots == 2) words = say("double-dotted %1").arg(words);
  if (value->actual == 3) words = say("triplet %1").arg(words);
  return words;
}

QString note_words(const music::Score& score, int note) {
  const music::Note& one = score.notes[static_cast<std::size_t>(note)];
  const Tick unit = 4 * kTicksPerQuarter / music::bar_at(score, one.onset).beat_type;
  return say("%1, %2, beat %3")
      .arg(pitch_words(score, one), length_words(one.length))
      .arg(music::beat_in_bar(score, one.onset, unit));
}

}  // namespace loftbeat::window
