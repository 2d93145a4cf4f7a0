#include "app/listen_command.h"

#include <unistd.h>

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <memory>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/listen_practice.h"
#include "app/listen_promise.h"
#include "app/review_command.h"
#include "base/file.h"
#include "practice/review.h"

namespace loftbeat::app {
namespace {

using live::rt::Reader;

// Takes that a crash left without an end.
void recover(const std::string& sessions, ListenScreen& screen) {
  for (const practice::SessionFolder& folder : practice::unfinished_sessions(sessions)) {
    const auto take = practice::finish_session(folder);
    screen.say(take ? fmt::format("An earlier practice had ended without being kept: {} recovered "
                                  "in {}.",
                                  take->events.size() == 1
                                      ? std::string("1 event")
                                      : fmt::format("{} events", take->events.size()),
                                  folder.take())
                    : to_string(take.error()));
  }
}

live::ClickMode click_of(const ListenOrder& order) {
  if (order.click) return *order.click;
  const bool someone = isatty(STDIN_FILENO) != 0 && order.replay_path.empty();
  return someone ? live::ClickMode::count_in : live::ClickMode::off;
}

// Opens what sounds, if anything is to. A device that is missing is an error where sound was asked
// for; where the count-in alone would sound, the screen counts.
Result<std::unique_ptr<ListenSound>> sound_for(const ListenOrder& order, live::ClickMode click,
                                               const ListenWork& work, const ListenSource& source,
                                               ListenSingers* singers, ListenScreen& screen) {
  const bool speak = order.ranks == ListenOrder::Ranks::speak;
  const bool clicks = click != live::ClickMode::off && order.replay_times > 0;
  if (!speak && !clicks && singers == nullptr) return std::unique_ptr<ListenSound>();
  if (speak && work.organ() == nullptr)
    return wrong_use("--sound needs an organ, and the plan names none.",
                     "Write organ = \"...\" into the plan.");
  ListenSound::Order sound;
  sound.listen = &order;
  sound.ranks = speak ? &work.checked.data : nullptr;
  sound.clicks = live::clicks_of(work.track, live::rt::Stage::kSampleRate);
  sound.queues = source.queues(Reader::sound);
  if (singers != nullptr) sound.added = singers->sound();
  if (speak || singers != nullptr)
    screen.say("Turn the volume low first, above all with headphones.");
  auto opened = ListenSound::open(std::move(sound));
  if (opened) {
    screen.say("Sound: " + (*opened)->device_words() + ".");
    return opened;
  }
  if (speak || singers != nullptr || order.click) return opened.error();
  screen.say("No sound: " + opened.error().message + " You are counted in on the screen.");
  return std::unique_ptr<ListenSound>();
}

crowd::CongregationOrder people_of(const ListenOrder& order) {
  crowd::CongregationOrder people;
  people.manners.people = order.singing;
  people.manners.reluctance = order.reluctance_percent / 100;
  people.manners.metres = order.metres;
  people.seed = static_cast<std::uint64_t>(std::time(nullptr));  // no two congregations are alike
  return people;
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

int show_whole_review(const ListenOutcome& outcome, ListenScreen& screen) {
  screen.say("Kept in " + outcome.folder.path + ".\n");
  ReviewOrder order;
  order.plan_path = outcome.folder.plan();
  order.take_path = outcome.folder.take();
  order.json_path = outcome.folder.review();
  return run_review(order);
}

Result<practice::Review> review_of(const ListenWork& work, const ListenOutcome& outcome) {
  music::ReadScore score;
  score.score = work.checked.planned.score;
  return practice::review(work.plan, std::move(score), outcome.take, outcome.folder.take());
}

// Where bars were without clicks: how far the player moved in them.
void tell_rests(const ListenPlace& place, const ListenOutcome& outcome) {
  if (place.click != live::ClickMode::rests || !outcome.first_note_s) return;
  const auto review = review_of(*place.work, outcome);
  if (!review) return;
  const std::string words = rests_words(
      *review, practice::click_rests(*review, place.work->counted(*outcome.first_note_s)));
  if (!words.empty()) place.screen->say("\n" + words);
}

// One try of a part: the few figures that it is about.
int tell_try(const ListenPlace& place, const ListenOutcome& outcome) {
  const auto review = review_of(*place.work, outcome);
  if (!review) return fail(review.error());
  if (place.order->only.what == Only::What::play_over) {
    place.screen->say(promise_words(*review));
    place.screen->say(promise_sound_words(*place.work, *review, outcome.take));
  } else {
    for (std::size_t join = 0; join < review->timing.joins.size(); ++join)
      place.screen->say(join_words(*review, join));
    if (review->timing.joins.empty()) place.screen->say("No join was played.");
  }
  for (const std::string& sentence : review->advice) place.screen->say("  " + sentence);
  return kReviewed;
}

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

// Tries of a part, one after the other, until the player ends it.
int rehearse(const ListenPlace& place) {
  int code = kReviewed;
  for (int number = 1; !interrupted(); ++number) {
    const bool cold = place.order->only.what == Only::What::play_over && number == 1 &&
                      is_first_today(*place.order, place.work->tune);
    const Begin usual = place.click == live::ClickMode::off ? Begin::at_once : Begin::counted_in;
    const Begin begin = cold ? Begin::cold : usual;
    const std::string greeting =
        fmt::format("\nTry {}{}", number,
                    cold ? ": the first today, and cold, so nobody counts you in. A service gives "
                           "one try."
                         : ".");
    const auto outcome = practise_once(place, begin, greeting);
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
    place.screen->say("Nothing was played.");
    return kReviewed;
  }
  tell_rests(place, *outcome);
  return show_whole_review(*outcome, *place.screen);
}

}  // namespace

int run_listen(const ListenOrder& order) {
  ListenScreen screen;
  recover(order.sessions, screen);
  std::vector<Reader> readers = {Reader::keeper, Reader::engine};
  if (order.ranks == ListenOrder::Ranks::speak) readers.push_back(Reader::sound);
  const live::ClickMode click = click_of(order);
  const auto work = listen_work(order, click);
  if (!work) return fail(work.error());
  Result<ListenSource> source = ListenSource::open(order, (*work)->organ(), readers);
  if (!source) return fail(source.error());
  ListenKeys keys;
  std::optional<ListenSingers> singers;
  if (order.singing > 0) singers.emplace(**work, people_of(order));
  auto sound = sound_for(order, click, **work, *source, singers ? &*singers : nullptr, screen);
  if (!sound) return fail(sound.error());
  std::optional<ListenStops> stops;
  if ((*work)->organ() != nullptr)
    stops.emplace(*(*work)->organ(), (*work)->checked.planned.registrations,
                  *sound ? &(*sound)->stage() : nullptr);
  const ListenPlace place{&order,
                          work->get(),
                          &*source,
                          &screen,
                          &keys,
                          sound->get(),
                          stops ? &*stops : nullptr,
                          singers ? &*singers : nullptr,
                          click};
  watch_interrupts();
  const Begin begin = click == live::ClickMode::off ? Begin::at_once : Begin::counted_in;
  if (!(*work)->words.empty()) screen.say((*work)->words);
  if (order.stops_by == ListenOrder::StopsBy::computer_keys && stops) {
    stops->begin();
    screen.say("Space draws what is planned for the next verse. Single stops:\n" + stops->legend());
  }
  const std::string words = greeting(order, *source, begin);
  if (order.only.what == Only::What::all) return listen_once(place, begin, words);
  screen.say(words);
  return rehearse(place);
}

}  // namespace loftbeat::app
