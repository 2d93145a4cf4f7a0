#include "app/listen_screen.h"

#include <cmath>
#include <cstdio>

#include <fmt/format.h>

#include "app/place_words.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "plan/route.h"
#include "report/card_words.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::app {
namespace {

void add_part(std::string& words, const std::string& more) {
  if (more.empty()) return;
  words += (words.empty() ? "" : " · ") + more;
}

// "+4 %", "−3 %".
std::string signed_percent(double percent) {
  return fmt::format("{}{:.0f} %", percent < 0 ? "−" : "+", std::abs(percent));
}

}  // namespace

ListenScreen::ListenScreen() : is_terminal_(look_at_terminal().is_terminal) {
  style_ = choose_style(look_at_terminal());
}

ListenScreen::~ListenScreen() { show(""); }

void ListenScreen::say(const std::string& sentence) {
  const std::string status = shown_;
  show("");
  static_cast<void>(loftbeat::write_file("-", sentence + "\n"));
  show(status);
}

void ListenScreen::show(const std::string& status) {
  if (!is_terminal_ || status == shown_) return;
  std::string cut = status;
  while (report::display_width(cut) + 1 > static_cast<std::size_t>(style_.width)) {
    cut.pop_back();
    while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U)
      cut.pop_back();
  }
  // Back to the line's begin, and what stood there wiped away (ECMA-48: erase in line).
  static_cast<void>(loftbeat::write_file("-", "\r\x1b[K" + cut));
  shown_ = status;
}

std::string place_words(const ListenWork& work, const live::NowPlaying& now,
                        ListenOrder::Shown shown) {
  const PlaceWords place = place_of(work, now);
  std::string words = place.pass;
  if (place.pass.empty()) return words;
  if (!place.in_tune) {
    add_part(words, "not the tune");
    return words;
  }
  if (place.line > 0) add_part(words, fmt::format("line {} of {}", place.line, place.lines));
  add_part(words, fmt::format("bar {}, beat {}", place.bar, place.beat));
  if (shown == ListenOrder::Shown::place_and_drift && place.behind_ms)
    add_part(words, behind_words(*place.behind_ms));
  add_part(words, place.hold);
  if (place.at_join && place.step != "no stop moves") {
    add_part(words, place.step);
  } else if (!place.look.empty()) {
    add_part(words, place.look);
  } else {
    add_part(words, place.step.empty() ? "" : "then " + place.step);
  }
  return words;
}

std::string join_words(const practice::Review& review, std::size_t join) {
  if (join >= review.timing.joins.size()) return "";
  const timing::JoinMeasures& measured = review.timing.joins[join];
  std::string words = report::join_name(review, measured) + ": " +
                      std::string(report::verdict_words(measured.verdict));
  if (measured.count_error_beats && *measured.count_error_beats != 0)
    words += fmt::format(", {} {} too {}", std::abs(*measured.count_error_beats),
                         std::abs(*measured.count_error_beats) == 1 ? "beat" : "beats",
                         *measured.count_error_beats > 0 ? "many" : "few");
  if (measured.phase_error_ms)
    words += fmt::format(" ({:.0f} ms {})", std::abs(*measured.phase_error_ms),
                         *measured.phase_error_ms < 0 ? "early" : "late");
  return words;
}

std::string rests_words(const practice::Review& review,
                        const std::vector<practice::ClickRest>& rests) {
  if (rests.empty()) return "";
  std::string words = "While the click rested\n";
  for (const practice::ClickRest& rest : rests) {
    const std::string bars = rest.from_bar == rest.to_bar
                                 ? "bar " + rest.from_bar
                                 : "bars " + rest.from_bar + " to " + rest.to_bar;
    words +=
        fmt::format("  {}, {}: {:.0f} ms {} over {:.0f} beats\n",
                    report::pass_name(review, rest.pass), report::clean_text(bars),
                    std::abs(rest.moved_ms), rest.moved_ms < 0 ? "gained" : "lost", rest.beats);
  }
  return words;
}

std::string promise_words(const practice::Review& review) {
  const auto& promise = review.timing.play_over;
  if (!promise) return "The play-over cannot be held against verse 1: " + promise.reason + ".";
  std::string words = "Play-over against the first line of verse 1: ";
  if (promise->tempo_bpm && promise->verse_tempo_bpm) {
    words += fmt::format("tempo {:.1f} and {:.1f}", *promise->tempo_bpm, *promise->verse_tempo_bpm);
    if (promise->tempo_difference_percent)
      words += " (" + signed_percent(*promise->tempo_difference_percent) + ")";
  } else {
    words += "tempo unknown";
  }
  if (promise->slowing_percent)
    words += "; slowing at its end " + signed_percent(*promise->slowing_percent);
  if (promise->mean_velocity && promise->verse_mean_velocity)
    words += fmt::format("; touch {:.0f} and {:.0f}", *promise->mean_velocity,
                         *promise->verse_mean_velocity);
  return words + ".";
}

}  // namespace loftbeat::app
