#include "app/listen_stops.h"

#include <algorithm>
#include <utility>

#include "voice/performance.h"

namespace loftbeat::app {
namespace {

constexpr std::size_t kLetters = 26;

std::string name_of(const organ::Organ& organ, const organ::ConsoleMove& move) {
  using What = organ::ConsoleMove::What;
  switch (move.what) {
    case What::stop: return organ::full_name(organ, organ.stops[move.index]);
    case What::coupler: return organ.couplers[move.index].name;
    case What::tremulant: return organ.tremulants[move.index].name;
    default: return {};  // pedals and pistons are not marked
  }
}

}  // namespace

ListenStops::ListenStops(const organ::Organ& organ, std::vector<organ::Registration> drawn,
                         live::rt::Stage* stage)
    : organ_(organ),
      of_pass_(std::move(drawn)),
      stage_(stage),
      console_(organ),
      drawn_(organ::empty_registration(organ)) {}

void ListenStops::change(const organ::Registration& after) {
  if (stage_ != nullptr) {
    voice::PerformanceBuilder builder(organ_);
    builder.change(0, drawn_, after);
    // A full queue loses a stop; it is drawn or pushed in with the next change.
    for (const voice::rt::Event& event : builder.finish(0).events)
      static_cast<void>(stage_->post(event));
  }
  drawn_ = after;
}

void ListenStops::begin() {
  const std::lock_guard<std::mutex> lock(lock_);
  pass_ = 0;
  if (!of_pass_.empty()) change(of_pass_.front());
}

void ListenStops::feed(const take::Event& event) {
  const std::lock_guard<std::mutex> lock(lock_);
  for (const organ::ConsoleMove& move : console_.feed(event))
    change(organ::moved(organ_, drawn_, move));
}

take::Event ListenStops::marked(const organ::Registration& before, Instant now) const {
  std::string names;
  for (const organ::ConsoleMove& move : organ::moves_between(before, drawn_)) {
    const std::string name = name_of(organ_, move);
    if (!name.empty())
      names += (names.empty() ? "" : ",") + std::string(move.value > 0 ? " + " : " - ") + name;
  }
  take::Event mark;
  mark.at = now;
  mark.kind = take::EventKind::marker;
  mark.bytes = "stops:" + names;
  return mark;
}

std::optional<take::Event> ListenStops::go_to(std::size_t pass, Instant now) {
  const std::lock_guard<std::mutex> lock(lock_);
  if (pass >= of_pass_.size()) return std::nullopt;
  pass_ = pass;
  const organ::Registration before = drawn_;
  if (of_pass_[pass] == before) return std::nullopt;
  change(of_pass_[pass]);
  return marked(before, now);
}

std::size_t ListenStops::pass() const {
  const std::lock_guard<std::mutex> lock(lock_);
  return pass_;
}

take::Event ListenStops::toggle(std::size_t stop, Instant now) {
  const std::lock_guard<std::mutex> lock(lock_);
  const organ::Registration before = drawn_;
  const bool is_drawn = std::binary_search(before.stops.begin(), before.stops.end(), stop);
  change(
      organ::moved(organ_, before, {organ::ConsoleMove::What::stop, stop, is_drawn ? 0.0 : 1.0}));
  return marked(before, now);
}

std::optional<char> ListenStops::key_of(std::size_t stop) {
  if (stop < kLetters) return static_cast<char>('a' + stop);
  if (stop < 2 * kLetters) return static_cast<char>('A' + (stop - kLetters));
  return std::nullopt;
}

std::optional<std::size_t> ListenStops::stop_of(char key) const {
  for (std::size_t stop = 0; stop < organ_.stops.size(); ++stop)
    if (key_of(stop) == key) return stop;
  return std::nullopt;
}

organ::Registration ListenStops::drawn() const {
  const std::lock_guard<std::mutex> lock(lock_);
  return drawn_;
}

std::string ListenStops::drawn_words() const {
  const std::lock_guard<std::mutex> lock(lock_);
  std::string words;
  for (const std::size_t stop : drawn_.stops)
    words += (words.empty() ? "" : ", ") + organ::full_name(organ_, organ_.stops[stop]);
  return words.empty() ? "nothing" : words;
}

std::string ListenStops::legend() const {
  const std::lock_guard<std::mutex> lock(lock_);
  std::string text;
  for (std::size_t stop = 0; stop < organ_.stops.size(); ++stop) {
    const auto key = key_of(stop);
    if (!key) break;
    const bool is_drawn = std::binary_search(drawn_.stops.begin(), drawn_.stops.end(), stop);
    text += std::string("  ") + *key + "  " + organ::full_name(organ_, organ_.stops[stop]) +
            (is_drawn ? ", drawn" : "") + "\n";
  }
  return text;
}

bool is_control(const organ::Organ& organ, const take::Event& event) {
  organ::ConsoleReader reader(organ);
  return !reader.feed(event).empty();
}

live::rt::KeyTable key_table(const organ::Organ& organ) {
  live::rt::KeyTable table;
  for (std::uint8_t channel = 0; channel < 16; ++channel) {
    for (std::uint8_t key = 0; key < 128; ++key) {
      const auto division = organ::division_of(organ, channel + 1, key);
      if (!division) continue;
      take::Event event;
      event.channel = channel;
      event.data1 = key;
      event.data2 = 64;
      if (is_control(organ, event)) continue;
      table.division[channel][key] = static_cast<std::int8_t>(*division);
    }
  }
  return table;
}

}  // namespace loftbeat::app
