#pragma once

#include <string>

#include "app/listen_work.h"
#include "live/live_view.h"
#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::app {

// What the terminal shows while one plays: lines that stay, and below them one that is written
// over itself.
class ListenScreen {
 public:
  ListenScreen();
  ~ListenScreen();
  ListenScreen(const ListenScreen&) = delete;
  ListenScreen& operator=(const ListenScreen&) = delete;

  void say(const std::string& sentence);
  // Nothing where standard output is no terminal.
  void show(const std::string& status);
  [[nodiscard]] const report::TerminalStyle& style() const { return style_; }

 private:
  report::TerminalStyle style_;
  bool is_terminal_;
  std::string shown_;
};

// "verse 2 · line 3 of 4 · bar 9, beat 2 · then LEFT: draw Great Fifteenth 2"; in a pass's last
// line where to look. With `shown`, how far ahead or behind.
[[nodiscard]] std::string place_words(const ListenWork& work, const live::NowPlaying& now,
                                      ListenOrder::Shown shown);

// "1 → 2: in time (20 ms late)"; empty if the join is not there.
[[nodiscard]] std::string join_words(const practice::Review& review, std::size_t join);

// What the metronome's silence showed; empty without resting bars.
[[nodiscard]] std::string rests_words(const practice::Review& review,
                                      const std::vector<practice::ClickRest>& rests);

// Promise against delivery: the play-over against verse 1's first line.
[[nodiscard]] std::string promise_words(const practice::Review& review);

}  // namespace loftbeat::app
