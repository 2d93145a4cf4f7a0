#include "notate/time_line.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::notate {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kChordSd = 0.010;  // of a chord as a whole, besides its keys

double sighting_variance(const Straying& straying, int keys) {
  return straying.key_sd_s * straying.key_sd_s / std::max(keys, 1) + kChordSd * kChordSd;
}

// The smoothed belief at a chord from that of the next one.
Belief smoothed(const Straying& straying, const Belief& seen, const Belief& predicted,
                const Belief& next, double step) {
  const double kept = std::exp(-step / straying.quarters_kept);
  const double reach = straying.quarters_kept * (1 - kept);
  // Cross-covariance of now with the prediction: P F', F = [1 reach; 0 kept].
  const double c00 = seen.var_at + seen.cov * reach, c01 = seen.cov * kept;
  const double c10 = seen.cov + seen.var_quarter * reach, c11 = seen.var_quarter * kept;
  const double det = predicted.var_at * predicted.var_quarter - predicted.cov * predicted.cov;
  if (!(det > 0)) return seen;
  const double i00 = predicted.var_quarter / det, i01 = -predicted.cov / det;
  const double i11 = predicted.var_at / det;
  const double g00 = c00 * i00 + c01 * i01, g01 = c00 * i01 + c01 * i11;
  const double g10 = c10 * i00 + c11 * i01, g11 = c10 * i01 + c11 * i11;
  const double d0 = next.at - predicted.at, d1 = next.quarter - predicted.quarter;
  const double v00 = next.var_at - predicted.var_at, v01 = next.cov - predicted.cov;
  const double v11 = next.var_quarter - predicted.var_quarter;
  Belief result;
  result.at = seen.at + g00 * d0 + g01 * d1;
  result.quarter = seen.quarter + g10 * d0 + g11 * d1;
  result.var_at = seen.var_at + g00 * g00 * v00 + 2 * g00 * g01 * v01 + g01 * g01 * v11;
  result.cov = seen.cov + g00 * (g10 * v00 + g11 * v01) + g01 * (g10 * v01 + g11 * v11);
  result.var_quarter = seen.var_quarter + g10 * g10 * v00 + 2 * g10 * g11 * v01 + g11 * g11 * v11;
  return result;
}

}  // namespace

Belief later(const Straying& straying, const Belief& now, double quarters) {
  const double t = straying.quarters_kept;
  const double kept = std::exp(-quarters / t);
  const double reach = t * (1 - kept);
  const double sd = straying.tempo_sd * straying.quarter_s;
  const double rate = 2 * sd * sd / t;
  Belief then;
  then.at = now.at + straying.quarter_s * quarters + (now.quarter - straying.quarter_s) * reach;
  then.quarter = straying.quarter_s + (now.quarter - straying.quarter_s) * kept;
  then.var_at = now.var_at + 2 * reach * now.cov + reach * reach * now.var_quarter +
                rate * t * t * (quarters - 2 * reach + t / 2 * (1 - kept * kept)) +
                straying.place_sd_s * straying.place_sd_s * quarters;
  then.cov =
      kept * (now.cov + reach * now.var_quarter) + rate * t * t / 2 * (1 - kept) * (1 - kept);
  then.var_quarter = kept * kept * now.var_quarter + sd * sd * (1 - kept * kept);
  return then;
}

Seen see(const Straying& straying, const Belief& before, const Sighting& sighting) {
  const double noise = sighting_variance(straying, sighting.keys);
  const double sum = before.var_at + noise;
  const double off = sighting.at - before.at;
  const double miss = 0.5 * off * off / sum;
  Seen seen;
  seen.cost = 0.5 * std::log(2 * kPi * sum) + std::min(miss, kSlip);
  if (miss > kSlip) {  // the thread is lost: begin again here, at the click's tempo
    const double sd = straying.tempo_sd * straying.quarter_s;
    seen.belief = {sighting.at, straying.quarter_s, noise, 0, sd * sd};
    return seen;
  }
  const double gain_at = before.var_at / sum;
  const double gain_quarter = before.cov / sum;
  seen.belief.at = before.at + gain_at * off;
  seen.belief.quarter = before.quarter + gain_quarter * off;
  seen.belief.var_at = before.var_at * (1 - gain_at);
  seen.belief.cov = before.cov * (1 - gain_at);
  seen.belief.var_quarter = before.var_quarter - gain_quarter * before.cov;
  return seen;
}

TimeLine::TimeLine(const Straying& straying, const std::vector<PlacedSighting>& chords)
    : quarter_s_(straying.quarter_s) {
  if (chords.empty()) return;
  const double sd = straying.tempo_sd * straying.quarter_s;
  std::vector<Belief> seen;
  std::vector<Belief> predicted;
  Belief belief{chords[0].sighting.at, straying.quarter_s, 1.0, 0, sd * sd};
  for (std::size_t i = 0; i < chords.size(); ++i) {
    if (i > 0) belief = later(straying, belief, quarters(chords[i].at - chords[i - 1].at));
    predicted.push_back(belief);
    belief = see(straying, belief, chords[i].sighting).belief;
    seen.push_back(belief);
  }
  for (std::size_t i = chords.size() - 1; i-- > 0;) {
    // Where the thread was lost, nothing is learned backwards.
    const double step = quarters(chords[i + 1].at - chords[i].at);
    const double off = chords[i + 1].sighting.at - predicted[i + 1].at;
    const double sum =
        predicted[i + 1].var_at + sighting_variance(straying, chords[i + 1].sighting.keys);
    if (0.5 * off * off / sum > kSlip) continue;
    seen[i] = smoothed(straying, seen[i], predicted[i + 1], seen[i + 1], step);
  }
  for (std::size_t i = 0; i < chords.size(); ++i) {
    double at = seen[i].at;
    if (!knots_.empty()) at = std::max(at, knots_.back().at + 1e-6);
    knots_.push_back({chords[i].at, at, std::max(seen[i].quarter, 0.2 * straying.quarter_s),
                      std::max(seen[i].var_at, 0.0)});
  }
}

double TimeLine::seconds_at(Tick at) const {
  if (knots_.empty()) return quarters(at) * quarter_s_;
  const auto next = std::upper_bound(knots_.begin(), knots_.end(), at,
                                     [](Tick tick, const Knot& knot) { return tick < knot.tick; });
  if (next == knots_.begin() || next == knots_.end()) {
    const Knot& end = next == knots_.begin() ? knots_.front() : knots_.back();
    return end.at + quarters(at - end.tick) * end.quarter;
  }
  const Knot& before = *(next - 1);
  const double share =
      static_cast<double>(at - before.tick) / static_cast<double>(next->tick - before.tick);
  return before.at + share * (next->at - before.at);
}

Tick TimeLine::tick_at(double at) const {
  if (knots_.empty()) return ticks_from_quarters(at / quarter_s_);
  const auto next = std::upper_bound(knots_.begin(), knots_.end(), at,
                                     [](double when, const Knot& knot) { return when < knot.at; });
  if (next == knots_.begin() || next == knots_.end()) {
    const Knot& end = next == knots_.begin() ? knots_.front() : knots_.back();
    return end.tick + ticks_from_quarters((at - end.at) / end.quarter);
  }
  const Knot& before = *(next - 1);
  const double share = (at - before.at) / (next->at - before.at);
  return before.tick + static_cast<Tick>(share * static_cast<double>(next->tick - before.tick));
}

}  // namespace loftbeat::notate
