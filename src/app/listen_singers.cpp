#include "app/listen_singers.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "room/acoustics.h"

namespace loftbeat::app {

namespace {

// What is rendered comes so much later out of the stage.
constexpr std::int64_t kDelay = voice::rt::Limiter::kDelayFrames;

// People are made as heard in 200 m2 of absorption (crowd/voices.h); a church has its own.
double volume_db(const SoundData& data) {
  constexpr double kMadeForM2 = 200;
  constexpr std::size_t kOneKilohertz = room::band_of_octave(4);
  if (!data.church) return 0;
  const double area = room::acoustics(*data.church, data.people).area_m2[kOneKilohertz];
  return std::clamp(10 * std::log10(kMadeForM2 / area), -20.0, 10.0);
}

}  // namespace

// The audio thread's side.
class ListenSingers::Mixed : public live::rt::AddedSound {
 public:
  explicit Mixed(ListenSingers& singers) : singers_(singers) {}

  void add_to(float* left, float* right, std::size_t frames, std::int64_t first,
              std::int64_t /*now_ns*/) override {
    crowd::Congregation* now = singers_.now_.load(std::memory_order_acquire);
    if (now == nullptr) return;
    now->render_from(first, left, right, frames);
  }

 private:
  ListenSingers& singers_;
};

ListenSingers::ListenSingers(const ListenWork& work, crowd::CongregationOrder order)
    : work_(work), order_(std::move(order)) {}

std::unique_ptr<live::rt::AddedSound> ListenSingers::sound() {
  return std::make_unique<Mixed>(*this);
}

Status ListenSingers::begin() {
  const PlannedSound& planned = work_.checked.planned;
  auto people =
      crowd::Congregation::prepare(planned.score, planned.route, planned.plan.beat, order_);
  if (!people) return people.error();
  (*people)->set_volume_db(volume_db(work_.checked.data));
  people_.push_back(std::move(*people));
  now_.store(people_.back().get(), std::memory_order_release);
  return {};
}

void ListenSingers::set_clock(const live::rt::Stage& stage, std::int64_t start_ns) {
  if (!stage.begun()) return;
  people_.back()->set_clock(Instant{Nanoseconds(stage.ns_at(kDelay) - start_ns)}, 0);
}

void ListenSingers::key(const take::Event& event, const follow::LiveFollower& follower) {
  if (event.kind == take::EventKind::note_on)
    people_.back()->key_down(event.at, event.data1, follower.position(event.at));
  if (event.kind == take::EventKind::note_off) people_.back()->key_up(event.at, event.data1);
}

void ListenSingers::advance(Instant now, const follow::LiveFollower& follower) {
  people_.back()->advance(now, follower.position(now));
}

}  // namespace loftbeat::app
