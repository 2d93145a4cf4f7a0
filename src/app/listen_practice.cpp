#include "app/listen_practice.h"

#include <algorithm>
#include <atomic>
#include <csignal>
#include <ctime>
#include <filesystem>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/listen_verdicts.h"
#include "base/file.h"
#include "live/live.h"
#include "practice/practice_note.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

using Clock = ListenSource::Clock;
using namespace std::chrono_literals;

constexpr auto kLookEvery = 5ms;
constexpr auto kWatchEvery = 250ms;  // half of the 0.5 s in which a plug that is pulled is noticed
constexpr auto kBeforeCountIn = 400ms;  // from the signal to the first click

std::atomic<bool> interrupt{false};
extern "C" void note_interrupt(int) { interrupt.store(true); }

std::int64_t steady_ns(Clock::time_point time) {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(time.time_since_epoch()).count();
}

// The message that begins and ends a practice: no note and nothing to keep.
bool is_signal(const ListenOrder& order, const take::Event& event) {
  if (!order.signal || event.data1 != order.signal->number) return false;
  if (order.signal->kind == Signal::Kind::control) return event.kind == take::EventKind::control;
  return event.kind == take::EventKind::note_on || event.kind == take::EventKind::note_off;
}
bool is_signal_pressed(const ListenOrder& order, const take::Event& event) {
  constexpr int kPressed = 64;
  if (!is_signal(order, event)) return false;
  return event.kind == take::EventKind::note_on ||
         (event.kind == take::EventKind::control && event.data2 >= kPressed);
}

Result<practice::SessionFolder> new_folder(const ListenPlace& place) {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  return practice::make_session(place.order->sessions, local, place.work->plan, place.work->tune);
}

// One practice while it lasts. What runs in the engine's thread is marked so.
class Running {
 public:
  Running(const ListenPlace& place, take::JournalWriter journal)
      : place_(place), start_(Clock::now()), verdicts_(*place.work) {
    place_.source->begin(start_);
    if (place_.sound) place_.sound->stage().count_stamps_from(steady_ns(start_));
    if (place_.stops) place_.stops->begin();
    live::Keeper::Rules rules;
    rules.left_out = [this](const take::Event& event) { return is_signal(*place_.order, event); };
    keeper_ = std::make_unique<live::Keeper>(place_.source->queues(live::rt::Reader::keeper),
                                             std::move(journal), std::move(rules));
    live::Engine::Order order;
    order.work = place_.work->view();
    order.queues = place_.source->queues(live::rt::Reader::engine);
    order.is_control = [this](const take::Event& event) { return is_no_note(event); };
    order.heard = [this](const take::Event& event) { heard(event); };
    order.followed = [this](const take::Event& event, const follow::LiveFollower& follower) {
      if (place_.singers) place_.singers->key(event, follower);
    };
    order.looked = [this](const live::NowPlaying& now, Instant at,
                          const follow::LiveFollower& follower) {
      looked(now, at);
      sing(at, follower);
    };
    order.now = [this] { return now(); };
    engine_ = std::make_unique<live::Engine>(std::move(order));
  }

  // Until it is over.
  ListenOutcome::Ended run(Begin begin);
  Status end();
  [[nodiscard]] std::optional<double> first_note_s() const { return first_note_s_; }
  [[nodiscard]] const take::Take& played() const { return verdicts_.take(); }

 private:
  [[nodiscard]] Instant now() const;
  void play_take(Clock::time_point begin);
  [[nodiscard]] bool is_no_note(const take::Event& event) const {
    if (is_signal(*place_.order, event)) return true;
    return place_.work->organ() != nullptr && is_control(*place_.work->organ(), event);
  }
  void heard(const take::Event& event);                         // engine's thread
  void looked(const live::NowPlaying& now, Instant at);         // engine's thread
  void sing(Instant at, const follow::LiveFollower& follower);  // engine's thread
  void count_in();
  void take_wish(const ListenWish& wish);
  void mark(const std::optional<take::Event>& event) {
    if (!event) return;
    verdicts_.feed(*event);
    keeper_->add(*event);
  }
  void watch();
  void show();
  [[nodiscard]] bool over_by_silence() const;
  [[nodiscard]] std::string counting_words() const;

  const ListenPlace& place_;
  Clock::time_point start_;
  ListenVerdicts verdicts_;
  std::unique_ptr<live::Keeper> keeper_;
  std::unique_ptr<live::Engine> engine_;
  std::atomic<std::int64_t> last_event_ns_{0};
  std::atomic<std::int64_t> last_stamp_ns_{0};
  std::atomic<std::int64_t> take_begin_ns_{0};
  std::atomic<bool> struck_{false};
  std::atomic<int> signals_{0};
  std::optional<double> first_note_s_;
  bool waiting_ = false;  // for Enter or the signal
  bool ended_by_player_ = false;
  bool left_ = false;
  bool sound_went_ = false;
  std::string trouble_;
  std::uint64_t told_lost_ = 0;
  Clock::time_point watched_;
  Clock::time_point shown_;
};

// The take's own time: that of the clock, or, where a take is replayed, so many times as fast, or
// that of its last event where it is played as fast as can be.
Instant Running::now() const {
  if (!place_.source->is_replay())
    return Instant{std::chrono::duration_cast<Nanoseconds>(Clock::now() - start_)};
  if (place_.order->replay_times <= 0) return Instant{Nanoseconds(last_stamp_ns_.load())};
  const std::int64_t begin = take_begin_ns_.load();
  const std::int64_t gone = steady_ns(Clock::now()) - begin;
  if (begin == 0 || gone < 0) return Instant{Nanoseconds(0)};  // it has not begun
  return Instant{Nanoseconds(
      static_cast<std::int64_t>(static_cast<double>(gone) * place_.order->replay_times))};
}

void Running::play_take(Clock::time_point begin) {
  take_begin_ns_.store(steady_ns(begin));
  place_.source->play_take(place_.order->replay_times, begin);
}

void Running::heard(const take::Event& event) {
  last_stamp_ns_.store(event.at.time_since_epoch().count());
  if (is_signal_pressed(*place_.order, event)) signals_.fetch_add(1);
  if (is_signal(*place_.order, event)) return;
  last_event_ns_.store(steady_ns(Clock::now()));
  if (event.kind == take::EventKind::note_on) struck_.store(true);
  if (place_.stops) place_.stops->feed(event);
  verdicts_.feed(event);
}

// Where the plan moves the stops, they move when the last chord has been let go.
void Running::looked(const live::NowPlaying& now, Instant at) {
  verdicts_.look(now, at);
  if (place_.stops == nullptr || place_.order->stops_by != ListenOrder::StopsBy::plan) return;
  if (!now.begun || now.coming_join < 0) return;
  const auto& passes = place_.work->checked.planned.route.passes;
  std::size_t pass = static_cast<std::size_t>(now.route_pass);
  const bool let_go = now.in_join && now.keys_down == 0;
  if (let_go) ++pass;
  while (let_go && pass < passes.size() &&
         (passes[pass].unaccompanied || passes[pass].spans.empty()))
    ++pass;
  if (pass > place_.stops->pass()) mark(place_.stops->go_to(pass, at));
}

void Running::sing(Instant at, const follow::LiveFollower& follower) {
  if (!place_.singers) return;
  const std::int64_t begin = place_.source->is_replay() ? take_begin_ns_.load() : steady_ns(start_);
  place_.singers->set_clock(place_.sound->stage(), begin);
  place_.singers->advance(at, follower);
}

void Running::count_in() {
  waiting_ = false;
  const live::ClickTrack& track = place_.work->track;
  Clock::time_point first_click = Clock::now() + kBeforeCountIn;
  if (place_.sound && place_.sound->stage().begun()) {
    live::rt::Stage& stage = place_.sound->stage();
    const std::int64_t frame = stage.frame_at(steady_ns(first_click));
    stage.metronome().start(frame);
    first_click = Clock::time_point(std::chrono::nanoseconds(stage.ns_at(frame)));
  }
  first_note_s_ =
      std::chrono::duration<double>(first_click - start_).count() + track.count_in_seconds;
}

void Running::take_wish(const ListenWish& wish) {
  using What = ListenWish::What;
  if (wish.what == What::leave) {
    left_ = true;
  } else if (wish.what == What::begin_or_end) {
    if (waiting_) {
      count_in();
    } else {
      ended_by_player_ = true;
    }
  } else if (place_.stops != nullptr) {
    if (wish.what == What::next_registration) {
      mark(place_.stops->go_to(place_.stops->pass() + 1, now()));
    } else {
      mark(place_.stops->toggle(wish.stop, now()));
    }
    place_.face->tell_drawn(place_.stops->drawn_words());
  }
}

void Running::watch() {
  for (const std::string& sentence : place_.source->watch()) place_.face->say(sentence);
  if (keeper_->trouble() != trouble_) {
    trouble_ = keeper_->trouble();
    place_.face->say(trouble_.empty() ? "The disk takes what is played again." : trouble_);
  }
  if (place_.sound && !sound_went_ && !place_.sound->runs()) {
    sound_went_ = true;
    place_.face->say("The sound device is gone; what you play is heard and kept all the same.");
  }
  const std::uint64_t lost = place_.source->lost();
  if (const std::string words = loss_words(lost, told_lost_); !words.empty())
    place_.face->say(words);
  told_lost_ = std::max(told_lost_, lost);
}

std::string Running::counting_words() const {
  if (!first_note_s_) return "";
  const double since = seconds(now()) - *first_note_s_;
  std::string words;
  for (const live::PlannedBeat& beat : place_.work->track.beats) {
    if (beat.pass >= 0 || beat.seconds > since) break;
    words = (beat.beat_of_bar == 1 ? "" : words + " ") + std::to_string(beat.beat_of_bar);
  }
  return since < 0 ? words : "";
}

void Running::show() {
  ListenSight sight;
  sight.waiting = waiting_ && !struck_.load();
  sight.now = engine_->snapshot();
  sight.counting = sight.now.begun || sight.waiting ? "" : counting_words();
  sight.messages = place_.source->messages();
  place_.face->show(sight);
  for (const std::string& verdict : verdicts_.fresh()) place_.face->tell_join(verdict);
}

bool Running::over_by_silence() const {
  if (place_.source->is_replay()) return place_.source->take_is_over();
  if (!struck_.load()) return false;
  const auto quiet = std::chrono::nanoseconds(steady_ns(Clock::now()) - last_event_ns_.load());
  return std::chrono::duration<double>(quiet).count() > place_.work->quiet_seconds;
}

ListenOutcome::Ended Running::run(Begin begin) {
  using Ended = ListenOutcome::Ended;
  waiting_ = begin == Begin::counted_in && !place_.source->is_replay();
  if (!waiting_ && place_.source->is_replay()) {
    play_take(Clock::now());
  }
  int signals = 0;
  while (!interrupt.load() && !left_ && !ended_by_player_) {
    while (const auto wish = place_.face->wish()) take_wish(*wish);
    if (const int seen = signals_.load(); seen != signals) {
      signals = seen;
      take_wish({});
    }
    if (waiting_ && struck_.load()) waiting_ = false;  // just began to play
    if (over_by_silence()) return Ended::by_silence;
    if (Clock::now() - watched_ >= kWatchEvery) {
      watched_ = Clock::now();
      watch();
    }
    if (Clock::now() - shown_ >= place_.face->show_every()) {
      shown_ = Clock::now();
      show();
    }
    std::this_thread::sleep_for(kLookEvery);
  }
  return interrupt.load() || left_ ? Ended::interrupted : Ended::by_player;
}

Status Running::end() {
  place_.face->show_nothing();
  if (place_.sound) place_.sound->stage().metronome().stop();
  place_.source->stop_take();
  engine_.reset();
  Status status = keeper_->end();
  watch();
  if (keeper_->broken() > 0)
    place_.face->say(
        fmt::format("{} messages made no sense and were left out.", keeper_->broken()));
  return status;
}

practice::PracticeNote note_of(const ListenPlace& place, Begin begin) {
  practice::PracticeNote note;
  note.click = live::click_mode_word(place.click);
  const Only& only = place.order->only;
  if (only.what == Only::What::play_over) note.only = "play-over";
  if (only.what == Only::What::join) note.only = "join " + std::to_string(only.verse);
  note.cold = begin == Begin::cold;
  note.singing = place.order->singing;
  return note;
}

// The disk refuses: the take goes where there may be room.
Error kept_elsewhere(const ListenPlace& place, const practice::SessionFolder& folder,
                     const take::Take& played, const Error& error) {
  std::error_code why;
  const std::string name = std::filesystem::path(folder.path).filename().string();
  const std::string path =
      (std::filesystem::temp_directory_path(why) / ("loftbeat-" + name + ".mid")).string();
  if (!why && loftbeat::write_file(path, take::format_take(played)))
    place.face->say("What was played is in " + path +
                    "; copy it before the computer is switched off.");
  return error;
}

}  // namespace

void watch_interrupts() { std::signal(SIGINT, note_interrupt); }
bool interrupted() { return interrupt.load(); }

Result<ListenOutcome> practise_once(const ListenPlace& place, Begin begin,
                                    const std::string& greeting) {
  ListenOutcome outcome;
  const auto folder = new_folder(place);
  if (!folder) return folder.error();
  outcome.folder = *folder;
  if (place.singers) {
    if (const Status status = place.singers->begin(); !status) return status.error();
  }
  auto journal = take::JournalWriter::create(folder->journal());
  if (!journal) return journal.error();
  Running running(place, std::move(*journal));
  if (const Status status = loftbeat::write_file(
          folder->note(), practice::format_practice_note(note_of(place, begin)));
      !status)
    return status.error();
  place.face->say(greeting);
  outcome.ended = running.run(begin);
  outcome.first_note_s = running.first_note_s();
  if (const Status status = running.end(); !status)
    return kept_elsewhere(place, *folder, running.played(), status.error());
  auto take = practice::finish_session(*folder);
  if (!take) return kept_elsewhere(place, *folder, running.played(), take.error());
  if (place.singers && !place.singers->record().beats.empty()) {
    const Status kept = loftbeat::write_file(folder->path + "/" + std::string(crowd::kCrowdFile),
                                             crowd::format_crowd(place.singers->record()));
    if (!kept) place.face->say(to_string(kept.error()));
  }
  outcome.take = std::move(*take);
  outcome.kept = !outcome.take.events.empty();
  if (!outcome.kept) practice::remove_unplayed(*folder);
  return outcome;
}

}  // namespace loftbeat::app
