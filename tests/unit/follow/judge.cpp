#include "judge.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "plan/read.h"
#include "simulate/piece.h"
#include "take/hygiene.h"

namespace loftbeat::test {
namespace {

constexpr double kBeatToleranceMs = 5;
constexpr double kSilenceToleranceS = 0.020;

struct Comparison {
  const simulate::ModelCase& model;
  const simulate::ModelTake& played;
  const take::CleanTake& clean;
  const follow::Alignment& found;
  std::vector<int> true_of;  // index into Truth::notes for each clean note, -1 if none
};

// Each clean note is the true note of the same key stamped nearest, within 30 ms.
std::vector<int> true_notes(const simulate::Truth& truth, const take::CleanTake& clean) {
  std::vector<std::vector<int>> by_pitch(128);
  for (std::size_t i = 0; i < truth.notes.size(); ++i) {
    by_pitch[static_cast<std::size_t>(truth.notes[i].pitch)].push_back(static_cast<int>(i));
  }
  std::vector<int> true_of(clean.notes.size(), -1);
  for (std::size_t n = 0; n < clean.notes.size(); ++n) {
    Nanoseconds best{30'000'000};
    for (int i : by_pitch[clean.notes[n].pitch]) {
      const Nanoseconds away =
          std::chrono::abs(truth.notes[static_cast<std::size_t>(i)].stamped_on - clean.notes[n].on);
      if (away <= best) {
        best = away;
        true_of[n] = i;
      }
    }
  }
  return true_of;
}

bool same_place(const music::Score& score, int a, int b) {
  if (a < 0 || b < 0) return false;
  const music::Note& x = score.notes[static_cast<std::size_t>(a)];
  const music::Note& y = score.notes[static_cast<std::size_t>(b)];
  return x.onset == y.onset && x.pitch == y.pitch;  // a unison is one key
}

void judge_passes(const Comparison& c, Judgement& judgement) {
  std::string found;
  std::string truth;
  for (const follow::AlignedPass& pass : c.found.passes) {
    found += fmt::format("{}/{} ", pass.run, pass.label);
  }
  for (const simulate::TruePass& pass : c.played.performance.truth.passes) {
    truth += fmt::format("{}/{} ", pass.run, pass.label);
  }
  judgement.labels_right = found == truth;
  if (!judgement.labels_right) {
    judgement.remarks += fmt::format("passes found: {}true: {}\n", found, truth);
  }
}

std::string names(const std::vector<plan::Texture>& textures) {
  std::string text;
  for (plan::Texture texture : textures) text += plan::to_string(texture) + " ";
  return text;
}

// Textures are reported, not judged: a take of a few bars may be dressed in more than one way.
void note_restarts(const Comparison& c, Judgement& judgement) {
  const auto& truth = c.played.performance.truth.passes;
  for (std::size_t p = 0; p < truth.size(); ++p) {
    for (const simulate::TrueRestart& restart : truth[p].restarts) {
      judgement.remarks +=
          fmt::format("pass {} truly restarts: {:.2f} -> {:.2f} at {:.3f} s\n", p,
                      quarters(restart.from), quarters(restart.to), seconds(restart.at));
    }
  }
  for (std::size_t p = 0; p < c.found.passes.size(); ++p) {
    for (const follow::Restart& restart : c.found.passes[p].restarts) {
      judgement.remarks +=
          fmt::format("pass {} restarts: {:.2f} -> {:.2f} at {:.3f} s\n", p, quarters(restart.from),
                      quarters(restart.to), seconds(restart.at));
    }
  }
}

void note_textures(const Comparison& c, Judgement& judgement) {
  const auto& truth = c.played.performance.truth.passes;
  for (std::size_t p = 0; p < truth.size() && p < c.found.passes.size(); ++p) {
    const std::string found = names(c.found.passes[p].textures);
    const std::string true_ones = names(truth[p].textures);
    if (found != true_ones) {
      judgement.remarks += fmt::format("pass {} texture found: {}true: {}\n", p, found, true_ones);
    }
  }
}

std::string textures_of(const simulate::Truth& truth, int pass) {
  const auto p = static_cast<std::size_t>(pass);
  return pass >= 0 && p < truth.passes.size() ? names(truth.passes[p].textures) : "not there";
}

struct PassCount {
  int truly = 0;
  int right = 0;
  int wrong = 0;
};

void judge_pairs(const Comparison& c, Judgement& judgement) {
  const auto& truth = c.played.performance.truth;
  std::map<int, PassCount> counts;
  for (std::size_t n = 0; n < c.clean.notes.size(); ++n) {
    const follow::NoteMatch& match = c.found.notes[n];
    const bool paired = match.score >= 0;
    const int i = c.true_of[n];
    const simulate::TrueNote* note = i < 0 ? nullptr : &truth.notes[static_cast<std::size_t>(i)];
    const bool truly = note != nullptr && note->score >= 0 && !note->superseded;
    if (truly) ++counts[note->pass].truly;
    if (truly && paired && match.pass == note->pass &&
        same_place(c.model.score, match.score, note->score)) {
      ++counts[note->pass].right;
    } else if (paired) {
      ++counts[match.pass].wrong;
      const music::Note& taken_for = c.model.score.notes[static_cast<std::size_t>(match.score)];
      judgement.remarks += fmt::format(
          "pass {} pitch {} at {:.3f} s taken for quarter {:.2f} voice {}; truly {}\n", match.pass,
          c.clean.notes[n].pitch, seconds(c.clean.notes[n].on), quarters(taken_for.onset),
          taken_for.voice,
          note == nullptr ? std::string("nothing")
                          : fmt::format("{} at quarter {:.2f}", simulate::to_string(note->kind),
                                        quarters(note->tick)));
    }
  }
  for (const auto& [pass, count] : counts) {
    judgement.pairs += count.truly;
    judgement.right_pairs += count.right;
    judgement.false_pairs += count.wrong;
    if (count.right < count.truly || count.wrong > 0) {
      judgement.remarks +=
          fmt::format("pass {} ({}): {} of {} notes found, {} wrong\n", pass,
                      textures_of(truth, pass), count.right, count.truly, count.wrong);
    }
  }
}

void judge_beats(const Comparison& c, Judgement& judgement) {
  const auto& truth = c.played.performance.truth;
  const Tick beat = plan::ticks(c.model.plan.beat);
  for (std::size_t p = 0; p < truth.passes.size(); ++p) {
    for (const simulate::TrueOnset& onset : truth.passes[p].onsets) {
      const music::Bar& bar = music::bar_at(c.model.score, onset.tick);
      if ((bar.start + bar.length - onset.tick) % beat != 0 || onset.count == 0) continue;
      ++judgement.beats;
      judgement.beat_error_against_intent_ms +=
          std::abs(milliseconds(onset.median - onset.intended));
      if (p >= c.found.passes.size()) continue;
      const auto& struck = c.found.passes[p].onsets;
      const auto it =
          std::lower_bound(struck.begin(), struck.end(), onset.tick,
                           [](const follow::StruckOnset& s, Tick t) { return s.tick < t; });
      const bool there = it != struck.end() && it->tick == onset.tick;
      if (there && std::abs(milliseconds(it->median - onset.median)) <= kBeatToleranceMs) {
        ++judgement.beats_right;
      } else {
        judgement.remarks += fmt::format(
            "pass {} quarter {:.2f}: {}\n", p, quarters(onset.tick),
            there ? fmt::format("{:.1f} ms off", milliseconds(it->median - onset.median))
                  : std::string("not struck"));
      }
    }
  }
}

void judge_joins(const Comparison& c, Judgement& judgement) {
  for (const simulate::TrueJoin& join : c.played.performance.truth.joins) {
    ++judgement.joins;
    const auto before = static_cast<std::size_t>(join.before);
    const auto after = static_cast<std::size_t>(join.after);
    if (after >= c.found.passes.size()) continue;
    const double silence =
        seconds(c.found.passes[after].first_onset - c.found.passes[before].last_release);
    if (std::abs(silence - join.silence_s) <= kSilenceToleranceS) {
      ++judgement.joins_right;
    } else {
      judgement.remarks += fmt::format("join {}: silence {:.3f}, true {:.3f}\n", join.before,
                                       silence, join.silence_s);
    }
  }
}

}  // namespace

double Judgement::f1() const {
  const double found = right_pairs + false_pairs;
  return found + pairs > 0 ? 2.0 * right_pairs / (found + pairs) : 0.0;
}

void Judgement::add(const Judgement& other) {
  pairs += other.pairs;
  right_pairs += other.right_pairs;
  false_pairs += other.false_pairs;
  beats += other.beats;
  beats_right += other.beats_right;
  joins += other.joins;
  joins_right += other.joins_right;
  beat_error_against_intent_ms += other.beat_error_against_intent_ms;
}

Judgement judge(const simulate::ModelCase& model, const simulate::ModelTake& played) {
  const take::CleanTake clean = take::clean(played.performance.take);
  const double beats = simulate::set_tempo_bpm({model.score, model.plan, played.route});
  const double qpm = beats * quarters(plan::ticks(model.plan.beat));
  const Result<follow::Alignment> found = follow::align(model.score, played.route, qpm, clean);
  Judgement judgement;
  if (!found) {
    judgement.remarks = to_string(found.error());
    return judgement;
  }
  judgement.fits = true;
  const Comparison c{model, played, clean, *found, true_notes(played.performance.truth, clean)};
  judge_passes(c, judgement);
  note_textures(c, judgement);
  note_restarts(c, judgement);
  judge_pairs(c, judgement);
  judge_beats(c, judgement);
  judge_joins(c, judgement);
  return judgement;
}

Judgement judge(const simulate::ModelCase& model) {
  const Result<simulate::ModelTake> played = simulate::play(model);
  if (!played) {
    Judgement judgement;
    judgement.remarks = to_string(played.error());
    return judgement;
  }
  return judge(model, *played);
}

}  // namespace loftbeat::test
