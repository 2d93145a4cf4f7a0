#pragma once

#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "live/rt/stage.h"
#include "organ/organ.h"
#include "take/take.h"

namespace loftbeat::app {

// What is drawn while one practises, by whatever moves it: messages of the keyboard, keys of the
// computer, or the plan by itself. What computer and plan move is marked in the take
// (advise/stop_events.h), since no message tells it. Any thread but a callback's.
class ListenStops {
 public:
  // `organ` must outlive this; `drawn`: one registration for each pass of the route; `stage`: whose
  // ranks speak, null: none.
  ListenStops(const organ::Organ& organ, std::vector<organ::Registration> drawn,
              live::rt::Stage* stage);

  // What is drawn for the first pass; nothing is marked.
  void begin();
  // A message of the keyboard, which may be a control's.
  void feed(const take::Event& event);
  // The registration of a pass, by its index in the route. The mark for the take, or nothing if
  // nothing moves.
  [[nodiscard]] std::optional<take::Event> go_to(std::size_t pass, Instant now);
  // The pass whose registration was gone to last.
  [[nodiscard]] std::size_t pass() const;
  // Draws a stop or pushes it in.
  [[nodiscard]] take::Event toggle(std::size_t stop, Instant now);

  // The key of the computer for a stop: a to z, then A to Z; nothing for the others.
  [[nodiscard]] static std::optional<char> key_of(std::size_t stop);
  [[nodiscard]] std::optional<std::size_t> stop_of(char key) const;
  // What is drawn now.
  [[nodiscard]] organ::Registration drawn() const;
  // "Great Open Diapason 8, Great Principal 4": what is drawn now; "nothing".
  [[nodiscard]] std::string drawn_words() const;
  // "a Great Open Diapason 8, drawn", a line for each stop that has a key.
  [[nodiscard]] std::string legend() const;

 private:
  void change(const organ::Registration& after);
  [[nodiscard]] take::Event marked(const organ::Registration& before, Instant now) const;

  const organ::Organ& organ_;
  std::vector<organ::Registration> of_pass_;
  live::rt::Stage* stage_;
  mutable std::mutex lock_;
  organ::ConsoleReader console_;
  organ::Registration drawn_;
  std::size_t pass_ = 0;
};

// Which keys play which division, for the audio thread. A key that is a control's own message
// plays none.
[[nodiscard]] live::rt::KeyTable key_table(const organ::Organ& organ);

// Whether the event is a control's message and no note.
[[nodiscard]] bool is_control(const organ::Organ& organ, const take::Event& event);

}  // namespace loftbeat::app
