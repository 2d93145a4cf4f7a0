#include "window/keys/practice_thread.h"

#include <chrono>
#include <utility>

#include "app/listen_room.h"
#include "app/listen_screen.h"
#include "app/listen_tries.h"

namespace loftbeat::window {
namespace {

using State = PracticeSight::State;

State state_of(const app::ListenSight& sight) {
  if (sight.now.begun) return State::playing;
  return sight.counting.empty() ? State::waiting : State::counting;
}

// Of a whole hymn: what to practise, the most useful first.
std::vector<std::string> whole_result(const app::ListenPlace& place,
                                      const app::ListenOutcome& outcome) {
  const auto review = app::review_of(*place.work, outcome);
  if (!review) return {to_string(review.error())};
  std::vector<std::string> words;
  for (std::size_t join = 0; join < review->timing.joins.size(); ++join)
    words.push_back(app::join_words(*review, join));
  words.insert(words.end(), review->advice.begin(), review->advice.end());
  return words;
}

std::vector<std::string> result_of(const app::ListenPlace& place,
                                   const app::ListenOutcome& outcome) {
  if (!outcome.kept) return {"Nothing was played."};
  if (place.order->only.what == app::Only::What::all) return whole_result(place, outcome);
  auto words = app::try_words(place, outcome);
  return words ? std::move(*words) : std::vector<std::string>{to_string(words.error())};
}

}  // namespace

class PracticeThread::Face : public app::ListenFace {
 public:
  Face(PracticeThread& of, app::ListenRoom& room) : of_(of), room_(room) {}
  void say(const std::string& sentence) override {
    const std::lock_guard<std::mutex> lock(of_.lock_);
    if (!sentence.empty()) of_.said_.push_back(sentence);
  }
  void tell_join(const std::string& verdict) override {
    const std::lock_guard<std::mutex> lock(of_.lock_);
    of_.sight_.verdict = verdict;
  }
  void tell_drawn(const std::string& /*words*/) override {}  // seen in the sight
  void show(const app::ListenSight& sight) override {
    app::PlaceWords place = app::place_of(room_.work(), sight.now);
    std::vector<std::size_t> drawn;
    if (room_.stops() != nullptr) drawn = room_.stops()->drawn().stops;
    const std::lock_guard<std::mutex> lock(of_.lock_);
    of_.sight_.state = state_of(sight);
    of_.sight_.counting = sight.counting;
    of_.sight_.place = std::move(place);
    of_.sight_.messages = sight.messages;
    of_.sight_.drawn = std::move(drawn);
  }
  void show_nothing() override {}
  // As often as a screen is drawn anew.
  [[nodiscard]] std::chrono::milliseconds show_every() const override {
    return std::chrono::milliseconds(16);
  }
  std::optional<app::ListenWish> wish() override {
    const std::lock_guard<std::mutex> lock(of_.lock_);
    if (of_.wishes_.empty()) return std::nullopt;
    const app::ListenWish wish = of_.wishes_.front();
    of_.wishes_.pop_front();
    return wish;
  }

 private:
  PracticeThread& of_;
  app::ListenRoom& room_;
};

void PracticeThread::open(app::ListenOrder order) {
  close();
  {
    const std::lock_guard<std::mutex> lock(lock_);
    sight_ = {};
    sight_.state = State::opening;
    wishes_.clear();
  }
  runs_.store(true);
  thread_ = std::thread([this, order = std::move(order)] { run(order); });
}

void PracticeThread::ask(const app::ListenWish& wish) {
  const std::lock_guard<std::mutex> lock(lock_);
  if (runs_.load()) wishes_.push_back(wish);
}

void PracticeThread::close() {
  leave();
  if (thread_.joinable()) thread_.join();
}

PracticeSight PracticeThread::look() const {
  const std::lock_guard<std::mutex> lock(lock_);
  return sight_;
}

std::vector<std::string> PracticeThread::said() {
  const std::lock_guard<std::mutex> lock(lock_);
  return std::exchange(said_, {});
}

void PracticeThread::run(const app::ListenOrder& order) {
  practise(order);
  const std::lock_guard<std::mutex> lock(lock_);
  runs_.store(false);
  sight_.state = State::closed;
}

void PracticeThread::practise(const app::ListenOrder& order) {
  const auto say = [this](const std::string& sentence) {
    const std::lock_guard<std::mutex> lock(lock_);
    said_.push_back(sentence);
  };
  const auto told = [this](const Error& error) {
    const std::lock_guard<std::mutex> lock(lock_);
    sight_.trouble = to_string(error);
  };
  auto room = app::ListenRoom::open(order, live::ClickMode::count_in, say);
  if (!room) return told(room.error());
  Face face(*this, **room);
  const app::ListenPlace place = (*room)->place(face);
  {
    const std::lock_guard<std::mutex> lock(lock_);
    sight_.inputs = place.source->names();
    sight_.is_replay = place.source->is_replay();
  }
  if (!place.work->words.empty()) say(place.work->words);
  using Ended = app::ListenOutcome::Ended;
  for (int number = 1;; ++number) {
    const app::Begin begin = app::begin_of_try(place, number);
    if (begin == app::Begin::cold) say(app::try_greeting(number, begin));
    const auto outcome = app::practise_once(place, begin, "");
    if (!outcome) return told(outcome.error());
    std::vector<std::string> result = result_of(place, *outcome);
    const std::lock_guard<std::mutex> lock(lock_);
    sight_.result = std::move(result);
    if (outcome->kept) {
      sight_.kept = outcome->folder.path;
      ++sight_.practices;
    }
    sight_.place = {};
    if (outcome->ended == Ended::interrupted || sight_.is_replay) return;
  }
}

}  // namespace loftbeat::window
