#pragma once

#include <optional>
#include <string>
#include <vector>

#include "music/score.h"
#include "notate/key_guess.h"
#include "notate/place_doubts.h"
#include "notate/setting.h"
#include "notate/struck_key.h"
#include "take/take.h"

namespace loftbeat::notate {

// What was played from one count-in on.
struct Heard {
  std::vector<HeardKey> keys;  // by onset
  // When the first beat that was asked for was due by the click; nothing: playing begins with it.
  std::optional<double> first_due_s;
  std::vector<double> line_marks_s;  // made while playing: a line ends about here
};
// Keys of a take after hygiene.
[[nodiscard]] Heard heard_of(const take::CleanTake& take);

// What may be asked about.
enum class DoubtKind { place, rest, part, key, lines };

// Something that could be read in two ways: what it is about, in a sentence that names bar and
// beat, and the answers, the first being how it is read now.
struct Doubt {
  DoubtKind kind = DoubtKind::place;
  Tick at = 0;
  std::string question;
  std::vector<std::string> choices;  // two
  double margin = 0;                 // by how little the second lost; the smallest come first
  // What the second answer does; which of these counts depends on the kind.
  Tick other = 0;                 // place: there; rest: the notes' length
  std::vector<std::size_t> keys;  // rest, part: into NotedHymn::keys
  std::vector<int> voices;        // part: of each key
  music::KeyMark key;             // key
  std::vector<Tick> lines;        // lines: those that the first answer takes
};

// A hymn as far as it has been noted: what was heard, what was answered, which bars were played
// again. A value: copy it to be able to go back. The score is reckoned from it whenever it is asked
// for.
struct NotedHymn {
  Setting setting;
  std::vector<StruckKey> keys;        // by (at, pitch)
  std::vector<PlaceDoubt> places;     // chords whose place is not sure
  std::vector<Tick> lines;            // where lines begin, but the first; marked or answered
  bool lines_known = false;           // false: they may be guessed and asked about
  std::optional<music::KeyMark> key;  // stated or answered; nothing: guessed
  std::string title;
  struct Answered {
    DoubtKind kind;
    Tick at;
    friend bool operator==(const Answered&, const Answered&) = default;
  };
  std::vector<Answered> answered;
  std::vector<int> played_again;  // bars, in order
  std::vector<Notice> notices;
};

// Notes down what was heard. Errors: the setting; nothing was played; more than kMostBars bars.
[[nodiscard]] Result<NotedHymn> note_down(const Heard& heard, const Setting& setting);

// Puts what was heard in place of one bar (0: the upbeat's); what comes after the bar's end is left
// out. A note tied into the bar stays tied if its key is struck at the bar's beginning. Errors: no
// such bar; nothing was played in it.
[[nodiscard]] Result<NotedHymn> play_again(NotedHymn hymn, int bar, const Heard& heard);
// Bars there are, not counting the upbeat.
[[nodiscard]] int bars_of(const NotedHymn& hymn);

// The score as it stands, and what is doubtful about it: at most kMostDoubts, the most doubtful
// first, without what was answered.
inline constexpr std::size_t kMostDoubts = 6;
struct Written {
  music::Score score;
  std::vector<Doubt> doubts;
  KeyGuess key;
};
[[nodiscard]] Written write(const NotedHymn& hymn);

// `choice` 0: as it is read; 1: the other way. Either way it is not asked again.
void answer(NotedHymn& hymn, const Doubt& doubt, std::size_t choice);

// Lines begin at these places (and at the beginning), whatever was marked; chords nearest to them.
void set_lines(NotedHymn& hymn, std::vector<Tick> lines);

}  // namespace loftbeat::notate
