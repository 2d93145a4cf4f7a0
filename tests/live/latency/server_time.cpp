#include "server_time.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loftbeat::live {
namespace {

constexpr double kFramesPerNs = 48'000 * 1e-9;
constexpr std::int64_t kSecond = 1'000'000'000;

double offset_of(const JackLoop::Cycle& cycle, std::int64_t origin_ns) {
  return static_cast<double>(cycle.frame) -
         static_cast<double>(cycle.steady_ns - origin_ns) * kFramesPerNs;
}

double median_offset(const std::vector<JackLoop::Cycle>& cycles, std::int64_t origin_ns) {
  std::vector<double> offsets;
  offsets.reserve(cycles.size());
  for (const JackLoop::Cycle& cycle : cycles) offsets.push_back(offset_of(cycle, origin_ns));
  const auto middle = offsets.begin() + static_cast<std::ptrdiff_t>(offsets.size() / 2);
  std::nth_element(offsets.begin(), middle, offsets.end());
  return *middle;
}

}  // namespace

ServerTime::ServerTime(std::vector<JackLoop::Cycle> cycles, jack_nframes_t period)
    : cycles_(std::move(cycles)), period_(static_cast<double>(period)) {}

std::vector<JackLoop::Cycle> ServerTime::within(std::int64_t from_ns, std::int64_t to_ns) const {
  const auto begin = std::lower_bound(
      cycles_.begin(), cycles_.end(), from_ns,
      [](const JackLoop::Cycle& cycle, std::int64_t at) { return cycle.steady_ns < at; });
  const auto end = std::upper_bound(
      begin, cycles_.end(), to_ns,
      [](std::int64_t at, const JackLoop::Cycle& cycle) { return at < cycle.steady_ns; });
  return {begin, end};
}

bool ServerTime::kept_time(std::int64_t from_ns, std::int64_t to_ns) const {
  const std::vector<JackLoop::Cycle> some = within(from_ns, to_ns);
  if (some.empty()) return false;
  const double usual = median_offset(some, from_ns);
  return std::all_of(some.begin(), some.end(), [&](const JackLoop::Cycle& cycle) {
    return std::abs(offset_of(cycle, from_ns) - usual) <= period_ / 2;
  });
}

std::optional<double> ServerTime::frame_at(std::int64_t steady_ns) const {
  const std::vector<JackLoop::Cycle> some = within(steady_ns - kSecond, steady_ns + kSecond / 5);
  if (some.empty()) return std::nullopt;
  return median_offset(some, steady_ns);
}

std::optional<std::int64_t> ServerTime::came_at(jack_nframes_t frame) const {
  const auto found = std::find_if(cycles_.begin(), cycles_.end(),
                                  [&](const JackLoop::Cycle& c) { return c.frame == frame; });
  if (found == cycles_.end()) return std::nullopt;
  return found->steady_ns;
}

}  // namespace loftbeat::live
