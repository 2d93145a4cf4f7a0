#include "app/listen_room.h"

#include <ctime>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "practice/session_folder.h"

namespace loftbeat::app {
namespace {

using live::rt::Reader;

crowd::CongregationOrder people_of(const ListenOrder& order) {
  crowd::CongregationOrder people;
  people.manners.people = order.singing;
  people.manners.reluctance = order.reluctance_percent / 100;
  people.manners.metres = order.metres;
  people.seed = static_cast<std::uint64_t>(std::time(nullptr));  // no two congregations are alike
  return people;
}

}  // namespace

Status ListenRoom::open_sound(const Say& say) {
  const bool speak = order_.ranks == ListenOrder::Ranks::speak;
  const bool clicks = click_ != live::ClickMode::off && order_.replay_times > 0;
  if (!speak && !clicks && !singers_) return {};
  if (speak && work_->organ() == nullptr)
    return wrong_use("the ranks cannot speak: the plan names no organ.",
                     "Write organ = \"...\" into the plan, or choose one for the hymn.");
  ListenSound::Order sound;
  sound.listen = &order_;
  sound.ranks = speak ? &work_->checked.data : nullptr;
  sound.clicks = live::clicks_of(work_->track, live::rt::Stage::kSampleRate);
  sound.queues = source_->queues(Reader::sound);
  if (singers_) sound.added = singers_->sound();
  if (speak || singers_) say("Turn the volume low first, above all with headphones.");
  auto opened = ListenSound::open(std::move(sound));
  if (opened) {
    say("Sound: " + (*opened)->device_words() + ".");
    sound_ = std::move(*opened);
    return {};
  }
  if (speak || singers_ || order_.click) return opened.error();
  say("No sound: " + opened.error().message + " You are counted in on the screen.");
  return {};
}

Result<std::unique_ptr<ListenRoom>> ListenRoom::open(ListenOrder order, live::ClickMode click,
                                                     const Say& say) {
  std::unique_ptr<ListenRoom> room(new ListenRoom);
  room->order_ = std::move(order);
  room->click_ = room->order_.click.value_or(click);
  auto work = listen_work(room->order_, room->click_);
  if (!work) return work.error();
  room->work_ = std::move(*work);
  std::vector<Reader> readers = {Reader::keeper, Reader::engine};
  if (room->order_.ranks == ListenOrder::Ranks::speak) readers.push_back(Reader::sound);
  auto source = ListenSource::open(room->order_, room->work_->organ(), readers);
  if (!source) return source.error();
  room->source_.emplace(std::move(*source));
  if (room->order_.singing > 0) room->singers_.emplace(*room->work_, people_of(room->order_));
  if (const Status status = room->open_sound(say); !status) return status.error();
  if (room->work_->organ() != nullptr)
    room->stops_.emplace(*room->work_->organ(), room->work_->checked.planned.registrations,
                         room->sound_ ? &room->sound_->stage() : nullptr);
  return room;
}

ListenPlace ListenRoom::place(ListenFace& face) {
  return {&order_,
          work_.get(),
          &*source_,
          &face,
          sound_.get(),
          stops(),
          singers_ ? &*singers_ : nullptr,
          click_};
}

void recover_unfinished(const std::string& sessions, const ListenRoom::Say& say) {
  for (const practice::SessionFolder& folder : practice::unfinished_sessions(sessions)) {
    const auto take = practice::finish_session(folder);
    say(take ? fmt::format("An earlier practice had ended without being kept: {} recovered in {}.",
                           take->events.size() == 1 ? std::string("1 event")
                                                    : fmt::format("{} events", take->events.size()),
                           folder.take())
             : to_string(take.error()));
  }
}

}  // namespace loftbeat::app
