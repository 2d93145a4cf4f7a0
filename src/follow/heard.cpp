#include "follow/heard.h"

#include <algorithm>
#include <array>

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kSameMoment{50'000'000};
constexpr double kClosesRunBeats = 8;
constexpr double kPlainlyBetter = 1.15;

using Profile = std::array<double, 128>;

// How well the pitches played fit the score's, moved by `shift`: the common part of both.
double common_part(const Profile& score, const Profile& played, int shift) {
  double sum = 0;
  for (int p = 0; p < 128; ++p) {
    const int q = p + shift;
    if (q < 0 || q > 127) continue;
    sum += std::min(score[static_cast<std::size_t>(p)], played[static_cast<std::size_t>(q)]);
  }
  return sum;
}

Profile score_profile(const music::Score& score) {
  Profile profile{};
  for (const music::Note& note : score.notes) {
    profile[static_cast<std::size_t>(note.pitch)] += 1.0 / static_cast<double>(score.notes.size());
  }
  return profile;
}

void consider(const Profile& score, const Profile& played, std::array<bool, 13>& likely) {
  const double as_written = common_part(score, played, 0);
  int best_shift = 0;
  double best = as_written;
  for (int shift = -6; shift <= 6; ++shift) {
    const double fit = common_part(score, played, shift);
    if (fit > best) {
      best = fit;
      best_shift = shift;
    }
  }
  if (best_shift != 0 && best > kPlainlyBetter * as_written) {
    likely[static_cast<std::size_t>(best_shift + 6)] = true;
  }
}

// First onset at or after the beginning, and the last before the end, of a span.
int first_onset(const OnsetTable& table, TickSpan span) { return table.at_or_after(span.begin); }
int last_onset(const OnsetTable& table, TickSpan span) { return table.at_or_after(span.end) - 1; }

void add_link(const OnsetTable& table, const Link& link, std::vector<Link>& links) {
  if (link.from < 0 || link.to < 0 || link.from >= table.size() || link.to >= table.size()) return;
  if (link.to == link.from + 1) return;
  const bool natural = link.from + 1 == table.size() && link.to == 0;
  if (natural && !links.empty()) return;
  links.push_back(link);
}

}  // namespace

std::vector<Heard> hear_notes(const take::CleanTake& take, Nanoseconds closes_run) {
  std::vector<Heard> notes(take.notes.size());
  Instant latest{};
  std::size_t from = 0;
  for (std::size_t n = 0; n < notes.size(); ++n) {
    const take::TakenNote& note = take.notes[n];
    while (note.on - take.notes[from].on > kSameMoment) ++from;
    bool top = true;
    for (std::size_t m = from; m < notes.size() && take.notes[m].on - note.on <= kSameMoment; ++m) {
      top = top && take.notes[m].pitch <= note.pitch;
    }
    const Nanoseconds gap = n > 0 ? note.on - take.notes[n - 1].on : Nanoseconds{0};
    notes[n] = {note.on, note.pitch, top, gap, n > 0 && note.on - latest > closes_run};
    latest = std::max(latest, note.off);
  }
  return notes;
}

std::vector<int> likely_layers(const music::Score& score, const plan::Route& route,
                               const std::vector<Heard>& notes) {
  std::array<bool, 13> likely{};
  const Profile written = score_profile(score);
  const std::size_t window = std::clamp<std::size_t>(score.notes.size() * 3 / 4, 40, 400);
  for (std::size_t begin = 0; begin < notes.size(); begin += window / 2) {
    const std::size_t end = std::min(notes.size(), begin + window);
    Profile played{};
    for (std::size_t n = begin; n < end; ++n) {
      played[static_cast<std::size_t>(notes[n].pitch)] += 1.0 / static_cast<double>(end - begin);
    }
    consider(written, played, likely);
  }
  std::vector<int> layers = {0};
  auto add = [&layers](int shift) {
    if (std::find(layers.begin(), layers.end(), shift) == layers.end()) layers.push_back(shift);
  };
  for (const plan::RoutePass& pass : route.passes) add(pass.transpose_semitones);
  for (int shift = -6; shift <= 6; ++shift) {
    if (likely[static_cast<std::size_t>(shift + 6)]) add(shift);
  }
  return layers;
}

std::vector<Link> planned_links(const OnsetTable& table, const plan::Route& route) {
  std::vector<Link> links;
  add_link(table, {table.size() - 1, 0, -1, true}, links);
  const plan::RoutePass* before = nullptr;
  int index = -1;
  for (const plan::RoutePass& pass : route.passes) {
    if (pass.unaccompanied || pass.spans.empty()) continue;
    if (before != nullptr) {
      add_link(table,
               {last_onset(table, before->spans.back()), first_onset(table, pass.spans.front()),
                index, true},
               links);
    }
    ++index;
    for (std::size_t i = 1; i < pass.spans.size(); ++i) {
      add_link(
          table,
          {last_onset(table, pass.spans[i - 1]), first_onset(table, pass.spans[i]), index, false},
          links);
    }
    before = &pass;
  }
  return links;
}

Nanoseconds closing_silence(const music::Score& score, const plan::Route& route,
                            double ns_per_tick) {
  double ticks = kClosesRunBeats * static_cast<double>(kTicksPerQuarter);
  for (const plan::RoutePass& pass : route.passes) {
    if (pass.unaccompanied) ticks += 1.5 * static_cast<double>(score.length);
  }
  return Nanoseconds{static_cast<std::int64_t>(ticks * ns_per_tick)};
}

}  // namespace loftbeat::follow
