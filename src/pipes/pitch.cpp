#include "pipes/pitch.h"

#include <cmath>

#include "pipes/zones.h"

namespace loftbeat::pipes {
namespace {

// A whole number of one or two digits from `at` on; 0 and `at` unmoved if there is none.
int small_number(const std::string& text, std::size_t& at) {
  int value = 0;
  for (int digits = 0; digits < 2 && at < text.size() && text[at] >= '0' && text[at] <= '9';
       ++digits) {
    value = 10 * value + (text[at++] - '0');
  }
  return value;
}

// The step that a key belongs to.
const Step& step_of(const Rank& rank, int key) {
  const Step* found = &rank.steps.front();
  for (const Step& step : rank.steps) {
    if (step.from_key <= key) found = &step;
  }
  return *found;
}

}  // namespace

double feet_from(const std::string& pitch) {
  std::size_t at = 0;
  int whole = small_number(pitch, at);
  if (at == pitch.size()) return whole;
  int top = whole;
  if (pitch[at] == ' ') {
    ++at;
    top = small_number(pitch, at);
  } else {
    whole = 0;
  }
  if (at >= pitch.size() || pitch[at] != '/') return 0;
  ++at;
  const int bottom = small_number(pitch, at);
  if (at != pitch.size() || bottom == 0 || top == 0) return 0;
  return whole + static_cast<double>(top) / bottom;
}

double key_hz(double key) { return 440 * std::exp2((key - 69) / 12); }

std::vector<double> intended_hz(const Rank& rank, int key) {
  constexpr double kHairAbove = 1.001;  // rounding must not push the top pipe over the edge
  const int root = has_key(key) ? zone_of(key).root : key;
  const double offset = std::exp2(rank.offset_cents / 1200);
  std::vector<double> pipes;
  for (const double feet : step_of(rank, root).feet) {
    double harmonic = 8 / feet;
    while (key_hz(root) * harmonic > kHighestPipeHz * kHairAbove) harmonic /= 2;
    pipes.push_back(key_hz(key) * harmonic * offset);
  }
  return pipes;
}

}  // namespace loftbeat::pipes
