#include "app/hymns_command.h"

#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/hymns_play.h"
#include "app/progress_line.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "practice/hymn_library.h"
#include "practice/hymn_search.h"
#include "report/hymns_text.h"
#include "take/hygiene.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

using practice::Hymn;

Result<practice::HymnLibrary> open_library(const HymnsOrder& order) {
  ProgressLine line;
  practice::HymnRequest request;
  request.folder = order.folder;
  request.cache_folder = practice::hymn_cache_folder();
  request.reread = order.afresh ? practice::Reread::all : practice::Reread::changed;
  request.progress = [&](std::size_t done, std::size_t all) {
    if (all > 0)
      line.show("Reading scores " + bar_text(static_cast<double>(done) / static_cast<double>(all)));
    return true;
  };
  return practice::open_hymns(request);
}

Result<std::vector<const Hymn*>> chosen(const HymnsOrder& order,
                                        const practice::HymnLibrary& library) {
  std::vector<const Hymn*> hymns =
      practice::with_words(practice::all_hymns(library.index), order.words);
  if (order.metre.empty()) return hymns;
  const auto metre = music::parse_poetic_metre(order.metre);
  if (!metre)
    return wrong_use("--metre " + order.metre + " is no metre of words.",
                     "Write it as hymn books do, as 8.6.8.6, 87.87.D or CM.");
  return practice::with_metre(hymns, *metre);
}

int write_out(const std::string& path, const std::string& text) {
  const Status status = loftbeat::write_file(path, text);
  return status ? kReviewed : fail(status.error());
}

// Names the tune of a take.
int answer_take(const HymnsOrder& order, const practice::HymnLibrary& library,
                const std::vector<const Hymn*>& hymns) {
  const Result<take::Take> take = take::read_take(order.take_path);
  if (!take) return fail(take.error());
  const auto heard = practice::heard_tune(take::clean(*take));
  const auto matches = practice::find_tune(heard, outlines_of(hymns));
  if (!order.json_path.empty()) {
    const std::string json = report::format_hymns_json({library, hymns, &matches});
    if (const int code = write_out(order.json_path, json); code != kReviewed) return code;
    if (order.json_path == "-") return kReviewed;
  }
  return write_out(
      "-", report::tune_answer(matches, hymns, heard.size(), choose_style(look_at_terminal())));
}

}  // namespace

int run_hymns(const HymnsOrder& order) {
  const auto library = open_library(order);
  if (!library) return fail(library.error());
  const auto hymns = chosen(order, *library);
  if (!hymns) return fail(hymns.error());
  if (!order.take_path.empty()) return answer_take(order, *library, *hymns);
  if (order.play) return play_to_name(order, *hymns);
  if (!order.json_path.empty()) {
    const std::string json = report::format_hymns_json({*library, *hymns});
    if (const int code = write_out(order.json_path, json); code != kReviewed) return code;
    if (order.json_path == "-") return kReviewed;
  }
  return write_out("-", report::hymns_text(*hymns, *library, choose_style(look_at_terminal())));
}

}  // namespace loftbeat::app
