// What the audio thread needs while someone practises on full organ, with the follower and the
// journal at work: through PortAudio on whatever sound server runs (tools/bench/run starts JACK
// without hardware). Prints how long the calls took against the device's period.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <thread>
#include <vector>

#include <unistd.h>

#include "live/live.h"
#include "music/read.h"
#include "organ/organ.h"
#include "pipes/read.h"
#include "plan/read.h"
#include "room/read.h"
#include "take/smf_take.h"
#include "voice/instrument.h"
#include "voice/sound_stream.h"

namespace {

using namespace loftbeat;
using live::rt::Reader;

const std::string kTree = LOFTBEAT_TREE;
constexpr double kSeconds = 30;

class OfStage : public voice::StreamSource {
 public:
  explicit OfStage(live::rt::StageSpec spec) : stage_(std::move(spec)) {}
  void render(float* left, float* right, std::size_t frames, std::int64_t now_ns) override {
    frames_ = frames;
    stage_.render(left, right, frames, now_ns);
  }
  [[nodiscard]] live::rt::Stage& stage() { return stage_; }
  [[nodiscard]] std::size_t frames() const { return frames_; }

 private:
  live::rt::Stage stage_;
  std::atomic<std::size_t> frames_{0};
};

// Every key that the take plays is played on the first manual, with every stop drawn and coupled.
live::rt::KeyTable all_on_the_great(const organ::Organ& organ) {
  live::rt::KeyTable table;
  std::size_t great = 0;
  while (organ.divisions[great].kind == organ::Division::Kind::pedal) ++great;
  for (auto& channel : table.division) channel.fill(static_cast<std::int8_t>(great));
  return table;
}

void draw_everything(live::rt::Stage& stage, const organ::Organ& organ) {
  using voice::rt::Act;
  for (std::uint16_t i = 0; i < organ.stops.size(); ++i)
    static_cast<void>(stage.post({0, Act::draw_stop, 0, i, 0}));
  for (std::uint16_t i = 0; i < organ.couplers.size(); ++i)
    static_cast<void>(stage.post({0, Act::draw_coupler, 0, i, 0}));
}

void take_times(live::rt::Stage& stage, std::vector<double>& ms) {
  while (const live::rt::StageTimes* times = stage.times().front()) {
    ms.push_back(static_cast<double>(times->spent_ns) * 1e-6);
    stage.times().pop();
  }
}

void print_times(std::vector<double> ms, std::size_t period, std::uint64_t underflows) {
  if (ms.empty() || period == 0) return;
  std::sort(ms.begin(), ms.end());
  const auto at = [&](double share) {
    return ms[static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1))];
  };
  const double whole = 1000.0 * static_cast<double>(period) / 48'000;
  std::printf(
      "full organ while practising, %zu calls of %.2f ms: %.3f ms (median), %.3f (99 %%), %.3f "
      "(most), that is %.2f, %.2f and %.2f of the period; the device had to wait %llu times\n",
      ms.size(), whole, at(0.5), at(0.99), at(1), at(0.5) / whole, at(0.99) / whole, at(1) / whole,
      static_cast<unsigned long long>(underflows));
}

int complain(const Error& error) {
  std::fprintf(stderr, "%s\n", to_string(error).c_str());
  return 1;
}

}  // namespace

int main() {
  const std::string parish = kTree + "/sessions/quaverham/";
  const auto organ = organ::read_organ(parish + "minimsby.organ.toml");
  const auto church = room::read_church(parish + "quaverham.church.toml");
  const auto recipes = pipes::read_recipes(kTree + "/soundfonts");
  const auto plan = plan::read_plan(kTree + "/sessions/demo.plan.toml");
  const auto score = music::read_score(plan->score_path);
  const auto take = take::read_take(kTree + "/sessions/demo.mid");
  const auto route = plan::make_route(*plan, score->score);

  voice::InstrumentOrder order;
  order.organ = &*organ;
  order.recipes = &*recipes;
  order.soundfont = LOFTBEAT_RANKS;
  order.church = &*church;
  order.people = 200;
  order.limiter = voice::rt::LimiterUse::off;
  order.quiet_start_db = 30;
  auto player = voice::make_player(order);
  if (!player) return complain(player.error());

  live::rt::Ears ears(std::vector{Reader::keeper, Reader::engine, Reader::sound});
  const auto start = std::chrono::steady_clock::now();
  live::rt::StageSpec spec;
  spec.player = std::move(*player);
  spec.queues = {ears.of(Reader::sound)};
  spec.keys = all_on_the_great(*organ);
  spec.stamps_begin_ns =
      std::chrono::duration_cast<std::chrono::nanoseconds>(start.time_since_epoch()).count();
  OfStage source(std::move(spec));
  draw_everything(source.stage(), *organ);
  auto stream = voice::SoundStream::open({"", 0}, source);
  if (!stream) return complain(stream.error());

  const std::string journal = (std::filesystem::temp_directory_path() /
                               ("loftbeat-bench-" + std::to_string(getpid()) + ".journal"))
                                  .string();
  live::Keeper keeper({ears.of(Reader::keeper)}, take::JournalWriter::create(journal).value());
  live::Engine::Order engine_order;
  engine_order.work = {&*plan, &score->score, &*route, plan->tempo_bpm};
  engine_order.queues = {ears.of(Reader::engine)};
  engine_order.now = [start] {
    return Instant{
        std::chrono::duration_cast<Nanoseconds>(std::chrono::steady_clock::now() - start)};
  };
  live::Engine engine(std::move(engine_order));
  const auto begin = std::chrono::steady_clock::now() + std::chrono::seconds(1);
  live::Replay replay(*take, {1, start, begin}, ears);
  // The first second is the ranks' quiet beginning.
  std::this_thread::sleep_until(begin);
  std::vector<double> ms;
  take_times(source.stage(), ms);
  ms.clear();
  const auto end = begin + std::chrono::duration<double>(kSeconds);
  while (std::chrono::steady_clock::now() < end) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    take_times(source.stage(), ms);
  }
  print_times(std::move(ms), source.frames(), (*stream)->underflows());
  (*stream)->stop();
  static_cast<void>(keeper.end());
  std::filesystem::remove(journal);
  return 0;
}
