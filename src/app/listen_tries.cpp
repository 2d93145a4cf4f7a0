#include "app/listen_tries.h"

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "app/listen_promise.h"
#include "app/listen_screen.h"
#include "practice/session_folder.h"

namespace loftbeat::app {
namespace {

// Whether something was practised of this tune on this day already.
bool is_first_today(const ListenOrder& order, const std::string& tune) {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  std::tm midnight = local;
  midnight.tm_hour = midnight.tm_min = 0;
  const std::string day = practice::session_name(local, tune).substr(0, 10);
  const std::string name = practice::session_name(midnight, tune);
  const std::string ending = name.substr(std::min<std::size_t>(name.size(), 15));
  std::error_code why;
  for (const auto& entry : std::filesystem::directory_iterator(order.sessions, why)) {
    const std::string folder = entry.path().filename().string();
    if (folder.rfind(day, 0) == 0 && folder.find(ending) != std::string::npos) return false;
  }
  return true;
}

}  // namespace

Result<practice::Review> review_of(const ListenWork& work, const ListenOutcome& outcome) {
  music::ReadScore score;
  score.score = work.checked.planned.score;
  return practice::review(work.plan, std::move(score), outcome.take, outcome.folder.take());
}

Begin begin_of_try(const ListenPlace& place, int number) {
  const bool cold = place.order->only.what == Only::What::play_over && number == 1 &&
                    is_first_today(*place.order, place.work->tune);
  if (cold) return Begin::cold;
  return place.click == live::ClickMode::off ? Begin::at_once : Begin::counted_in;
}

std::string try_greeting(int number, Begin begin) {
  return fmt::format("Try {}{}", number,
                     begin == Begin::cold
                         ? ": the first today, and cold, so nobody counts you in. A service gives "
                           "one try."
                         : ".");
}

Result<std::vector<std::string>> try_words(const ListenPlace& place, const ListenOutcome& outcome) {
  const auto review = review_of(*place.work, outcome);
  if (!review) return review.error();
  std::vector<std::string> words;
  if (place.order->only.what == Only::What::play_over) {
    words.push_back(promise_words(*review));
    words.push_back(promise_sound_words(*place.work, *review, outcome.take));
  } else {
    for (std::size_t join = 0; join < review->timing.joins.size(); ++join)
      words.push_back(join_words(*review, join));
    if (review->timing.joins.empty()) words.emplace_back("No join was played.");
  }
  for (const std::string& sentence : review->advice) words.push_back("  " + sentence);
  return words;
}

}  // namespace loftbeat::app
