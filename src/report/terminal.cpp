#include "report/terminal.h"

#include <fmt/format.h>

#include "report/led.h"
#include "report/stops.h"
#include "report/summary.h"
#include "report/tables.h"
#include "report/text_writer.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr std::size_t kPlacesShown = 12;

std::string title_of(const practice::Review& review) {
  const std::string& title = review.plan.title.empty() ? review.score.title : review.plan.title;
  return title.empty() ? "Untitled hymn" : clean_text(title);
}

void write_places(TextWriter& text, const practice::Review& review) {
  std::vector<std::string> lines = place_lines(review);
  if (lines.empty()) return;
  const std::size_t left = lines.size() > kPlacesShown ? lines.size() - kPlacesShown : 0;
  lines.resize(lines.size() - left);
  if (left > 0) lines.push_back(fmt::format("... and {} more (the page shows all).", left));
  text.heading("On the way");
  text.items(lines);
}

void write_list(TextWriter& text, const char* heading, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  text.heading(heading);
  text.items(lines);
}

void write_advice(TextWriter& text, const practice::Review& review) {
  text.heading("Practise first");
  if (review.advice.empty())
    text.line("  Nothing stands out. Play it again, or take the next hymn.");
  int number = 0;
  for (const std::string& sentence : review.advice) {
    text.item(fmt::format("{:>2}. ", ++number), clean_text(sentence));
  }
}

std::vector<std::string> notice_lines(const practice::Review& review) {
  std::vector<std::string> lines;
  for (const Notice& notice : review.notices) lines.push_back(clean_text(to_string(notice)));
  return lines;
}

}  // namespace

std::string terminal_text(const practice::Review& review, const TerminalStyle& style) {
  TextWriter text(style);
  text.heading(fmt::format("{}, {}", title_of(review), clean_text(review.take_name)));
  text.line(tempo_line(review));
  text.line(passes_line(review));
  text.heading("The beat");
  text.table(pass_table(review));
  if (!review.timing.joins.empty()) {
    text.heading("The joins");
    text.table(join_table(review));
  }
  text.note("Drift and phase: + is late. Feet: + is after the hands. ! is spoken of below.");
  text.heading("The stops at the joins");
  if (!stop_table(review).rows.empty()) text.table(stop_table(review));
  text.items(stop_lines(review));
  if (review.led) {
    text.heading("Who led");
    if (!led_table(review).rows.empty()) text.table(led_table(review));
    text.items(led_lines(review));
  }
  text.heading("The play-over as a promise");
  text.items(play_over_lines(review));
  write_places(text, review);
  write_list(text, "Not known (–)", reason_lines(review));
  write_list(text, "Noted", notice_lines(review));
  write_advice(text, review);
  return text.done();
}

}  // namespace loftbeat::report
