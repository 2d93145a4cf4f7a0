#include "report/words.h"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

const follow::AlignedPass& pass_at(const practice::Review& review, int pass) {
  return review.alignment.passes.at(static_cast<std::size_t>(pass));
}

std::string plain_name(const follow::AlignedPass& pass) {
  std::string label = clean_text(pass.label);
  if (pass.kind == plan::PassKind::verse) return "verse " + label;
  if (pass.kind == plan::PassKind::amen) return "Amen";
  return label;
}

int fifths_at(const music::Score& score, Tick at) {
  int fifths = 0;
  for (const music::KeyMark& key : score.keys) {
    if (key.at > at) break;
    fifths = key.fifths;
  }
  return fifths;
}

}  // namespace

std::string pass_name(const practice::Review& review, int pass) {
  const follow::AlignedPass& aligned = pass_at(review, pass);
  std::string name = plain_name(aligned);
  if (aligned.run > 1) name = fmt::format("run {}: {}", aligned.run, name);
  return aligned.complete ? name : name + " (broken off)";
}

std::string join_name(const practice::Review& review, const timing::JoinMeasures& join) {
  const JoinEnds ends = join_ends(join);
  const std::string text = fmt::format("{} → {}", clean_text(pass_at(review, ends.earlier).label),
                                       clean_text(pass_at(review, ends.later).label));
  return join.run > 1 ? fmt::format("run {}: {}", join.run, text) : text;
}

JoinEnds join_ends(const timing::JoinMeasures& join) {
  const auto [earlier, later] = std::minmax(join.before, join.after);
  return {earlier, later};
}

std::string_view verdict_words(timing::JoinVerdict verdict) {
  switch (verdict) {
    case timing::JoinVerdict::in_time: return "in time";
    case timing::JoinVerdict::early: return "early";
    case timing::JoinVerdict::late: return "late";
    case timing::JoinVerdict::miscounted: return "miscounted";
    case timing::JoinVerdict::cannot_tell: return "cannot tell";
    case timing::JoinVerdict::unlike: return "unlike";
    case timing::JoinVerdict::alike: break;
  }
  return "alike";
}

std::string_view verdict_name(timing::JoinVerdict verdict) {
  if (verdict == timing::JoinVerdict::in_time) return "in-time";
  if (verdict == timing::JoinVerdict::cannot_tell) return "cannot-tell";
  return verdict_words(verdict);
}

std::string_view stop_verdict_words(advise::StopVerdict verdict) {
  switch (verdict) {
    case advise::StopVerdict::clean: return "clean";
    case advise::StopVerdict::heard_in_the_chord: return "heard in the chord";
    case advise::StopVerdict::cost_the_beat: return "cost the beat";
    case advise::StopVerdict::after_the_beat: return "after the beat";
    case advise::StopVerdict::left_out: break;
  }
  return "left out";
}

std::string_view stop_verdict_name(advise::StopVerdict verdict) {
  switch (verdict) {
    case advise::StopVerdict::clean: return "clean";
    case advise::StopVerdict::heard_in_the_chord: return "heard-in-the-chord";
    case advise::StopVerdict::cost_the_beat: return "cost-the-beat";
    case advise::StopVerdict::after_the_beat: return "after-the-beat";
    case advise::StopVerdict::left_out: break;
  }
  return "left-out";
}

std::string_view finding_name(practice::FindingKind kind) {
  using practice::FindingKind;
  switch (kind) {
    case FindingKind::tempo_off: return "tempo-off";
    case FindingKind::dragging: return "dragging";
    case FindingKind::rushing: return "rushing";
    case FindingKind::unsteady: return "unsteady";
    case FindingKind::hesitation: return "hesitation";
    case FindingKind::join_early: return "join-early";
    case FindingKind::join_late: return "join-late";
    case FindingKind::join_miscounted: return "join-miscounted";
    case FindingKind::join_unlike: return "join-unlike";
    case FindingKind::play_over_tempo: return "play-over-tempo";
    case FindingKind::play_over_slowing: return "play-over-slowing";
    case FindingKind::play_over_timid: return "play-over-timid";
    case FindingKind::feet_late: return "feet-late";
    case FindingKind::feet_early: return "feet-early";
    case FindingKind::hands_apart: return "hands-apart";
    case FindingKind::smear: return "smear";
    case FindingKind::repeats_unstruck: return "repeats-unstruck";
    case FindingKind::sustain_pedal: return "sustain-pedal";
    case FindingKind::ragged_release: return "ragged-release";
    case FindingKind::wrong_notes: return "wrong-notes";
    case FindingKind::missed_notes: return "missed-notes";
    case FindingKind::correction: return "correction";
    case FindingKind::restart: return "restart";
    case FindingKind::stops_heard: return "stops-heard-in-the-chord";
    case FindingKind::stops_cost_beat: return "stops-cost-the-beat";
    case FindingKind::stops_after_beat: return "stops-after-the-beat";
    case FindingKind::stops_left_out: return "stops-left-out";
    case FindingKind::texture: break;
  }
  return "texture";
}

std::string_view match_name(follow::MatchKind kind) {
  switch (kind) {
    case follow::MatchKind::matched: return "matched";
    case follow::MatchKind::octave: return "octave";
    case follow::MatchKind::other: return "other";
    case follow::MatchKind::held: return "held";
    case follow::MatchKind::extra: break;
  }
  return "extra";
}

std::string_view pass_kind_name(plan::PassKind kind) {
  switch (kind) {
    case plan::PassKind::play_over: return "play-over";
    case plan::PassKind::interlude: return "interlude";
    case plan::PassKind::amen: return "amen";
    case plan::PassKind::verse: break;
  }
  return "verse";
}

std::string_view feet_name(timing::FeetSource feet) {
  switch (feet) {
    case timing::FeetSource::pedal_channel: return "pedal-channel";
    case timing::FeetSource::bass_voice: return "bass-voice";
    case timing::FeetSource::none: break;
  }
  return "none";
}

std::string_view fermata_name(plan::FermataKind kind) {
  switch (kind) {
    case plan::FermataKind::hold: return "hold";
    case plan::FermataKind::free: return "free";
    case plan::FermataKind::sign_only: break;
  }
  return "sign-only";
}

std::string_view play_over_name(plan::PlayOverKind kind) {
  switch (kind) {
    case plan::PlayOverKind::none: return "none";
    case plan::PlayOverKind::whole: return "whole";
    case plan::PlayOverKind::phrases: return "phrases";
    case plan::PlayOverKind::first_and_last: return "first-and-last";
    case plan::PlayOverKind::automatic: break;
  }
  return "auto";
}

std::string_view beat_words(plan::BeatUnit beat) {
  switch (beat) {
    case plan::BeatUnit::eighth: return "eighth note";
    case plan::BeatUnit::dotted_quarter: return "dotted quarter note";
    case plan::BeatUnit::half: return "half note";
    case plan::BeatUnit::dotted_half: return "dotted half note";
    case plan::BeatUnit::quarter: break;
  }
  return "quarter note";
}

std::string note_name(int pitch, const music::Score& score, Tick at) {
  static constexpr std::array<std::string_view, 12> sharps = {"C",  "C♯", "D",  "D♯", "E",  "F",
                                                              "F♯", "G",  "G♯", "A",  "A♯", "B"};
  static constexpr std::array<std::string_view, 12> flats = {"C",  "D♭", "D",  "E♭", "E",  "F",
                                                             "G♭", "G",  "A♭", "A",  "B♭", "B"};
  const auto& names = fifths_at(score, at) < 0 ? flats : sharps;
  return fmt::format("{}{}", names[static_cast<std::size_t>(pitch % 12)], pitch / 12 - 1);
}

}  // namespace loftbeat::report
