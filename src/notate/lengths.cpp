#include "notate/lengths.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace loftbeat::notate {
namespace {

// How keys are let go, as shares of what is written: about the player's own middle, each key for
// itself and all of a chord together. Assumptions.
constexpr double kKeySd = 0.12;
constexpr double kTogetherSd = 0.06;
constexpr double kRestOfAll = 3.0;  // that all parts rest
constexpr double kRestOfOne = 7.0;  // that one rests while others go on
constexpr double kEndsElsewhere = 3.0;
constexpr double kEndsWithBar = 1.5;
constexpr double kTold = 2.5;  // a reading that is dearer by less is asked about

// What is written of one stroke, before rests.
struct Span {
  std::size_t voice = 0, stroke = 0;
  Tick at = 0, next = 0;
  double released = 0;  // ticks after `at`, the mean of its keys
};

class LengthFinder {
 public:
  LengthFinder(const std::vector<StruckKey>& keys, const Parts& parts, const Setting& setting)
      : keys_(keys), parts_(parts), setting_(setting) {}

  Lengths find() {
    for (std::size_t v = 0; v < parts_.voices.size(); ++v) collect(v);
    touch_ = usual_touch();
    found_.voices.resize(parts_.voices.size());
    std::map<std::pair<Tick, Tick>, std::vector<Span>> together;
    for (const Span& span : spans_) together[{span.next, span.at}].push_back(span);
    for (const auto& [place, spans] : together) decide(spans);
    finish();
    for (auto& voice : found_.voices)
      std::sort(voice.begin(), voice.end(), [](const PartNote& a, const PartNote& b) {
        return a.at != b.at ? a.at < b.at : a.pitch > b.pitch;
      });
    return std::move(found_);
  }

 private:
  void collect(std::size_t voice);
  [[nodiscard]] double usual_touch() const;
  [[nodiscard]] bool all_rest(const Span& span) const;
  [[nodiscard]] double cost(const std::vector<Span>& spans, Tick length) const;
  void decide(const std::vector<Span>& spans);
  void finish();
  void write(const Span& span, Tick length);
  void tell(const std::vector<Span>& spans, Tick length, Tick other, double margin);

  const std::vector<StruckKey>& keys_;
  const Parts& parts_;
  const Setting& setting_;
  std::vector<Span> spans_;
  std::vector<Span> last_;  // of each part
  double touch_ = 0.85;
  Lengths found_;
};

void LengthFinder::collect(std::size_t voice) {
  const auto& strokes = parts_.voices[voice];
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    Span span{voice, i, strokes[i].at, 0, 0};
    for (const std::size_t key : strokes[i].keys)
      span.released += static_cast<double>(keys_[key].released - keys_[key].at);
    span.released /= static_cast<double>(strokes[i].keys.size());
    if (i + 1 == strokes.size()) {
      last_.push_back(span);
    } else {
      span.next = strokes[i + 1].at;
      spans_.push_back(span);
    }
  }
}

double LengthFinder::usual_touch() const {
  std::vector<double> shares;
  for (const Span& span : spans_)
    shares.push_back(std::min(1.05, span.released / static_cast<double>(span.next - span.at)));
  if (shares.size() < 8) return 0.85;
  const auto middle = shares.begin() + static_cast<std::ptrdiff_t>(shares.size() / 2);
  std::nth_element(shares.begin(), middle, shares.end());
  return std::clamp(*middle, 0.6, 1.0);
}

// Whether every part that sounds before `span.next` begins anew there.
bool LengthFinder::all_rest(const Span& span) const {
  const auto goes_on = [&](const Span& other) {
    return other.at < span.next && other.next > span.next;
  };
  return std::none_of(spans_.begin(), spans_.end(), goes_on) &&
         std::none_of(last_.begin(), last_.end(),
                      [&](const Span& other) { return other.at < span.next; });
}

// Notes written `length` long, let go as they were.
double LengthFinder::cost(const std::vector<Span>& spans, Tick length) const {
  double sum = 0;
  for (const Span& span : spans) sum += std::min(span.released / static_cast<double>(length), 1.4);
  const auto n = static_cast<double>(spans.size());
  const double sd = std::sqrt(kKeySd * kKeySd / n + kTogetherSd * kTogetherSd);
  const double off = (sum / n - touch_) / sd;
  return 0.5 * off * off;
}

void LengthFinder::decide(const std::vector<Span>& spans) {
  const Tick whole = spans.front().next - spans.front().at;
  const Tick unit = 4 * kTicksPerQuarter / setting_.beat_type;
  const double rest_cost = all_rest(spans.front()) ? kRestOfAll : kRestOfOne;
  Tick best = whole, second = whole;
  double least = cost(spans, whole), next = 1000;
  // Rests are whole beats of the metre, or half a note.
  const Tick step = whole > unit ? unit : unit / 2;
  for (Tick length = whole - step; length > 0 && whole > step; length -= step) {
    const double c = cost(spans, length) + rest_cost;
    if (c < least) {
      second = best, next = least;
      best = length, least = c;
    } else if (c < next) {
      second = length, next = c;
    }
  }
  for (const Span& span : spans) write(span, best);
  if (second != best && next - least < kTold) tell(spans, best, second, next - least);
}

void LengthFinder::tell(const std::vector<Span>& spans, Tick length, Tick other, double margin) {
  RestDoubt doubt{spans.front().at, length, other, {}, margin};
  for (const Span& span : spans) {
    const auto& stroke = parts_.voices[span.voice][span.stroke];
    for (const std::size_t key : stroke.keys) {
      if (keys_[key].length) return;  // it was answered
      doubt.keys.push_back(key);
    }
  }
  found_.doubts.push_back(std::move(doubt));
}

void LengthFinder::write(const Span& span, Tick length) {
  for (const std::size_t key : parts_.voices[span.voice][span.stroke].keys) {
    Tick own = keys_[key].length.value_or(length);
    if (span.next > span.at) own = std::min(own, span.next - span.at);
    found_.voices[span.voice].push_back({span.at, own, keys_[key].pitch, key});
    found_.end = std::max(found_.end, span.at + own);
  }
}

// Where all parts end.
void LengthFinder::finish() {
  if (last_.empty()) return;
  Tick begin = 0;
  for (const Span& span : last_) begin = std::max(begin, span.at);
  std::vector<Span> chord;
  for (const Span& span : last_)
    if (span.at == begin) chord.push_back(span);
  const Tick unit = 4 * kTicksPerQuarter / setting_.beat_type;
  const Tick bar_end = bar_begin(setting_, begin) + bar_length(setting_);
  const Tick filled = bar_end - setting_.upbeat;
  Tick best = unit;
  double least = 1e9;
  const Tick first = begin + unit - (begin - setting_.upbeat + bar_length(setting_)) % unit;
  for (Tick end = first; end <= bar_end + bar_length(setting_); end += unit) {
    const double place = end == filled || end == filled + bar_length(setting_) ? 0
                         : end == bar_end                                      ? kEndsWithBar
                                                                               : kEndsElsewhere;
    const double c = cost(chord, end - begin) + place;
    if (c >= least) continue;
    least = c;
    best = end - begin;
  }
  for (const Span& span : last_) write(span, begin + best - span.at);
}

}  // namespace

Lengths find_lengths(const std::vector<StruckKey>& keys, const Parts& parts,
                     const Setting& setting) {
  return LengthFinder(keys, parts, setting).find();
}

}  // namespace loftbeat::notate
