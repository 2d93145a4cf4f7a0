#include "report/led.h"

#include "report/numbers.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

std::string led_words(crowd::Led led) {
  switch (led) {
    case crowd::Led::firm: return "you led";
    case crowd::Led::gave_way: return "you gave way";
    case crowd::Led::not_tested: return "nothing to hold out against";
    case crowd::Led::unknown: break;
  }
  return "cannot tell";
}

std::string speed(const crowd::VerseLed& verse) {
  return write_figure(verse.begin_bpm, kTempo) + " to " + write_figure(verse.end_bpm, kTempo);
}

}  // namespace

Table led_table(const practice::Review& review) {
  Table table;
  if (!review.led) return table;
  table.columns = {{"", "Verse", Column::Side::left},
                   {"People", "behind"},
                   {"Spread", "of it"},
                   {"Came in", "behind"},
                   {"Your", "tempo"},
                   {"", "Who led", Column::Side::left}};
  for (const crowd::VerseLed& verse : review.led->verses) {
    const auto flag = verse.led == crowd::Led::gave_way ? Cell::Flag::raised : Cell::Flag::none;
    table.rows.push_back({{pass_name(review, verse.pass)},
                          {write_figure(verse.lag_ms, kSignedMs)},
                          {write_figure(verse.spread_ms, kMs)},
                          {write_figure(verse.entry_ms, kSignedMs)},
                          {speed(verse)},
                          {led_words(verse.led), flag}});
  }
  return table;
}

std::vector<std::string> led_lines(const practice::Review& review) {
  if (!review.led) return {};
  return {review.led->sentence};
}

std::string_view led_name(crowd::Led led) {
  switch (led) {
    case crowd::Led::firm: return "firm";
    case crowd::Led::gave_way: return "gave-way";
    case crowd::Led::not_tested: return "not-tested";
    case crowd::Led::unknown: break;
  }
  return "unknown";
}

}  // namespace loftbeat::report
