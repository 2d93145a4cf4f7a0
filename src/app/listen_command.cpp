#include "app/listen_command.h"

#include <unistd.h>

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <memory>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/listen_room.h"
#include "app/listen_screen.h"
#include "app/listen_terminal.h"
#include "app/listen_tries.h"
#include "app/review_command.h"
#include "base/file.h"
#include "practice/review.h"

namespace loftbeat::app {
namespace {

live::ClickMode click_of(const ListenOrder& order) {
  if (order.click) return *order.click;
  const bool someone = isatty(STDIN_FILENO) != 0 && order.replay_path.empty();
  return someone ? live::ClickMode::count_in : live::ClickMode::off;
}

std::string greeting(const ListenOrder& order, const ListenSource& source, Begin begin) {
  if (source.is_replay()) return "Listening to the take.";
  std::string words = "Listening to " + source.names() + ". ";
  const char* end = order.signal ? "press Enter or give the signal" : "press Enter";
  if (begin == Begin::counted_in) {
    return words + fmt::format("To be counted in, {}; or just begin. To end, {} again.", end, end);
  }
  return words + fmt::format("Play; {} when you have finished.", end);
}

int show_whole_review(const ListenOutcome& outcome, ListenFace& face) {
  face.say("Kept in " + outcome.folder.path + ".\n");
  ReviewOrder order;
  order.plan_path = outcome.folder.plan();
  order.take_path = outcome.folder.take();
  order.json_path = outcome.folder.review();
  return run_review(order);
}

// Where bars were without clicks: how far the player moved in them.
void tell_rests(const ListenPlace& place, const ListenOutcome& outcome) {
  if (place.click != live::ClickMode::rests || !outcome.first_note_s) return;
  const auto review = review_of(*place.work, outcome);
  if (!review) return;
  const std::string words = rests_words(
      *review, practice::click_rests(*review, place.work->counted(*outcome.first_note_s)));
  if (!words.empty()) place.face->say("\n" + words);
}

// One try of a part: the few figures that it is about.
int tell_try(const ListenPlace& place, const ListenOutcome& outcome) {
  const auto words = try_words(place, outcome);
  if (!words) return fail(words.error());
  for (const std::string& sentence : *words) place.face->say(sentence);
  return kReviewed;
}

// Tries of a part, one after the other, until the player ends it.
int rehearse(const ListenPlace& place) {
  int code = kReviewed;
  for (int number = 1; !interrupted(); ++number) {
    const Begin begin = begin_of_try(place, number);
    const auto outcome = practise_once(place, begin, "\n" + try_greeting(number, begin));
    if (!outcome) return fail(outcome.error());
    if (outcome->kept) code = tell_try(place, *outcome);
    if (outcome->ended != ListenOutcome::Ended::by_silence) break;
  }
  return code;
}

int listen_once(const ListenPlace& place, Begin begin, const std::string& greeting) {
  const auto outcome = practise_once(place, begin, greeting);
  if (!outcome) return fail(outcome.error());
  if (!outcome->kept) {
    place.face->say("Nothing was played.");
    return kReviewed;
  }
  tell_rests(place, *outcome);
  return show_whole_review(*outcome, *place.face);
}

}  // namespace

int run_listen(const ListenOrder& order) {
  ListenScreen screen;
  const ListenRoom::Say say = [&screen](const std::string& sentence) { screen.say(sentence); };
  recover_unfinished(order.sessions, say);
  const live::ClickMode click = click_of(order);
  const auto room = ListenRoom::open(order, click, say);
  if (!room) return fail(room.error());
  ListenStops* stops = (*room)->stops();
  ListenTerminal terminal((*room)->order(), (*room)->work(), screen, stops);
  const ListenPlace place = (*room)->place(terminal);
  watch_interrupts();
  const Begin begin = click == live::ClickMode::off ? Begin::at_once : Begin::counted_in;
  if (!place.work->words.empty()) screen.say(place.work->words);
  if (order.stops_by == ListenOrder::StopsBy::computer_keys && stops != nullptr) {
    stops->begin();
    screen.say("Space draws what is planned for the next verse. Single stops:\n" + stops->legend());
  }
  const std::string words = greeting(order, *place.source, begin);
  if (order.only.what == Only::What::all) return listen_once(place, begin, words);
  screen.say(words);
  return rehearse(place);
}

}  // namespace loftbeat::app
