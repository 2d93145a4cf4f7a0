#include "app/hymns_play.h"

#include <chrono>
#include <thread>

#include "app/endings.h"
#include "app/listen_keys.h"
#include "app/listen_practice.h"
#include "app/listen_screen.h"
#include "app/listen_source.h"
#include "live/message_event.h"
#include "live/oldest.h"
#include "practice/line_catcher.h"
#include "report/hymns_text.h"
#include "take/hygiene.h"

namespace loftbeat::app {
namespace {

using Clock = ListenSource::Clock;
using namespace std::chrono_literals;

class TuneListener {
 public:
  TuneListener(ListenSource& source, ListenScreen& screen,
               const std::vector<const practice::Hymn*>& hymns)
      : source_(source),
        screen_(screen),
        hymns_(hymns),
        outlines_(outlines_of(hymns)),
        queues_(source.queues(live::rt::Reader::keeper)) {}

  // Until Enter, Ctrl-C or the end of a replayed take.
  void run() {
    ListenKeys keys;
    const Clock::time_point start = Clock::now();
    source_.begin(start);
    source_.play_take(1, start);
    auto watched = start;
    bool ended = false;
    while (!ended && !interrupted()) {
      const auto key = keys.is_terminal() ? keys.pressed() : std::nullopt;
      const bool over = source_.is_replay() && source_.take_is_over();
      ended = key == '\n' || over;
      drain();
      const Instant now{Clock::now() - start};
      if (auto line = ended ? catcher_.taken() : catcher_.paused(now)) answer(*line);
      if (Clock::now() - watched >= 250ms) {
        for (const std::string& sentence : source_.watch()) screen_.say(sentence);
        watched = Clock::now();
      }
      std::this_thread::sleep_for(10ms);
    }
  }

 private:
  void drain() {
    while (live::rt::MessageQueue* queue = live::oldest_of(queues_)) {
      if (auto event = live::event_of(*queue->front())) catcher_.add(std::move(*event));
      queue->pop();
    }
  }

  void answer(const take::Take& line) {
    const auto heard = practice::heard_tune(take::clean(line));
    std::string words = report::tune_answer(practice::find_tune(heard, outlines_), hymns_,
                                            heard.size(), screen_.style());
    if (!words.empty()) words.pop_back();
    screen_.say(words);
  }

  ListenSource& source_;
  ListenScreen& screen_;
  const std::vector<const practice::Hymn*>& hymns_;
  std::vector<const practice::TuneOutline*> outlines_;
  std::vector<live::rt::MessageQueue*> queues_;
  practice::LineCatcher catcher_;
};

}  // namespace

std::vector<const practice::TuneOutline*> outlines_of(
    const std::vector<const practice::Hymn*>& hymns) {
  std::vector<const practice::TuneOutline*> outlines;
  outlines.reserve(hymns.size());
  for (const practice::Hymn* hymn : hymns) outlines.push_back(&hymn->outline);
  return outlines;
}

int play_to_name(const HymnsOrder& order, const std::vector<const practice::Hymn*>& hymns) {
  ListenOrder inputs;
  inputs.inputs = order.inputs;
  inputs.replay_path = order.replay_path;
  Result<ListenSource> source = ListenSource::open(inputs, nullptr, {live::rt::Reader::keeper});
  if (!source) return fail(source.error());
  ListenScreen screen;
  watch_interrupts();
  if (!source->is_replay())
    screen.say("Listening to " + source->names() +
               ". Play the first line of a hymn and pause; Enter ends.");
  TuneListener(*source, screen, hymns).run();
  return kReviewed;
}

}  // namespace loftbeat::app
