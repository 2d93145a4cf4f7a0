// What a singing congregation costs: its sound against the time that it sounds, and the engine's
// reckoning of when people sing.

#include <algorithm>
#include <cstdio>
#include <cstdint>
#include <vector>

#include "bench/cpu_time.h"
#include "crowd/congregation.h"

namespace {

using namespace loftbeat;

// A minute of crotchets at 80 a minute, in callbacks of 128 frames.
void sound(int people) {
  const double before = bench::cpu_seconds();
  crowd::rt::Choir choir(crowd::make_choir({people, room::Effort::raised, 1}));
  const double made = bench::cpu_seconds();
  constexpr std::int64_t kFrames = std::int64_t{60} * crowd::rt::kSampleRate;
  std::vector<float> left(128);
  std::vector<float> right(128);
  double worst = 0;
  for (std::int64_t at = 0; at < kFrames; at += 128) {
    if (at % 36'096 < 128)
      static_cast<void>(choir.post({at + 4'800, crowd::rt::Sing::note,
                                    static_cast<std::uint8_t>(60 + at / 36'096 % 13), 0}));
    const double begin = bench::cpu_seconds();
    choir.render(left.data(), right.data(), left.size());
    worst = std::max(worst, bench::cpu_seconds() - begin);
  }
  const double spent = bench::cpu_seconds() - made;
  std::printf(
      "crowd of %4d (%2d voices): made in %.0f ms; a minute rendered in %.2f s, %.0f times as fast "
      "as "
      "it sounds; a callback of 2.67 ms at most %.2f ms\n",
      people, std::min(people, crowd::kMostVoices), 1e3 * (made - before), spent, 60 / spent,
      1e3 * worst);
}

void timing() {
  music::Score score;
  for (int k = 0; k < 128; ++k)
    score.notes.push_back({k * kTicksPerQuarter, kTicksPerQuarter, 60 + k % 12, 0, 0});
  for (int bar = 0; bar < 32; ++bar) {
    music::Bar one;
    one.start = Tick{4} * bar * kTicksPerQuarter;
    one.length = 4 * kTicksPerQuarter;
    score.bars.push_back(one);
  }
  score.length = 128 * kTicksPerQuarter;
  plan::Route route;
  for (int verse = 1; verse <= 20; ++verse) {
    plan::RoutePass pass;
    pass.spans = {{0, score.length}};
    route.passes.push_back(pass);
  }
  crowd::People people(score, route, plan::BeatUnit::quarter, {}, 1);
  follow::LivePosition position;
  position.in_tune = true;
  position.ns_per_tick = 0.75e9 / static_cast<double>(kTicksPerQuarter);
  const double begin = bench::cpu_seconds();
  std::int64_t calls = 0;
  std::size_t events = 0;
  for (std::int64_t ms = 0; ms < std::int64_t{20} * 128 * 750; ms += 5, ++calls) {
    const std::int64_t beat = ms / 750;
    position.passes_begun = static_cast<int>(beat / 128) + 1;
    position.route_pass = position.passes_begun - 1;
    position.onset = beat % 128 * kTicksPerQuarter;
    position.tick = position.onset + (ms % 750) * kTicksPerQuarter / 750;
    people.advance(Instant(Nanoseconds(ms * 1'000'000)), position);
    events += people.take_events().size();
  }
  const double spent = bench::cpu_seconds() - begin;
  std::printf("crowd, when to sing: %.2f us a call (%lld calls, %zu events)\n",
              1e6 * spent / static_cast<double>(calls), static_cast<long long>(calls), events);
}

}  // namespace

int main() {
  for (const int people : {1, 12, 48, 300}) sound(people);
  timing();
}
