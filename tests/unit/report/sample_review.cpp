#include "sample_review.h"

#include <array>
#include <cmath>
#include <string>

namespace loftbeat::testing {
namespace {

constexpr Tick kQ = kTicksPerQuarter;
constexpr double kSetBeatMs = 60000.0 / 72.0;

// Numbers without a pattern, the same on every machine.
class Shaker {
 public:
  // Within [-1, 1].
  double next() {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state_ >> 40) / static_cast<double>(1u << 23) - 1.0;
  }

 private:
  std::uint64_t state_ = 20240;
};

music::Score make_score(int bars) {
  music::Score score;
  score.title = "Millbrook Lane";
  score.bars.push_back({0, kQ, "0", 4, 4, true});
  for (int b = 0; b < bars; ++b) {
    const bool last = b + 1 == bars;
    score.bars.push_back(
        {kQ + b * 4 * kQ, (last ? 3 : 4) * kQ, std::to_string(b + 1), 4, 4, false});
  }
  score.length = 4 * bars * kQ;
  constexpr std::array<int, 8> tune = {62, 67, 69, 71, 67, 72, 71, 69};
  for (int q = 0; q < 4 * bars; ++q) {
    const bool final_chord = q == 4 * bars - 3;
    if (q > 4 * bars - 3) break;
    const int soprano = final_chord ? 67 : tune[static_cast<std::size_t>(q) % tune.size()];
    const std::array<int, 4> chord = {soprano - 24, soprano - 12, soprano - 5, soprano};
    for (int v = 0; v < 4; ++v) {
      score.notes.push_back({q * kQ, (final_chord ? 3 : 1) * kQ, chord[static_cast<std::size_t>(v)],
                             3 - v, v < 2 ? 1 : 0});
    }
  }
  for (int p = 0; p < 4; ++p) score.phrases.push_back({{p * bars * kQ, (p + 1) * bars * kQ}});
  score.phrase_source = music::PhraseSource::lyric_lines;
  score.keys.push_back({0, 1, false});
  score.lyric_verses = 3;
  score.voices = 4;
  score.staves = 2;
  return score;
}

plan::Plan make_plan(int verses) {
  plan::Plan plan;
  plan.title = "Millbrook Lane";
  plan.score_path = "millbrook-lane.musicxml";
  plan.file = "millbrook-lane.plan.toml";
  plan.tempo_bpm = 72;
  plan.verses = verses;
  plan.play_over.kind = plan::PlayOverKind::first_and_last;
  plan.join = plan::Join{plan::JoinKind::hold_and_lift, 3, 2, 0};
  return plan;
}

// How one pass is played.
struct Manner {
  std::string label;
  double beat_ms;
  double drag_ms;  // what each beat grows by
  double jitter_ms;
  double pedal_late_ms;
  int velocity;
  std::vector<TickSpan> spans;
  bool troubled = false;
};

class Player {
 public:
  explicit Player(SampleSize size) {
    review_.score = make_score(size.bars);
    review_.plan = make_plan(size.verses);
    review_.route.phrases = review_.score.phrases;
    review_.take_name = "saturday.mid";
    review_.take.velocity_varies = true;
    review_.take.pedal_channels = 4;
    review_.alignment.label_source = "plan";
    review_.alignment.matched_share = 0.99;
  }

  void play(const Manner& manner, double gap_beats) {
    const int index = static_cast<int>(review_.alignment.passes.size());
    if (index > 0) now_ms_ = last_onset_ms_ + gap_beats * last_beat_ms_;
    begin_pass(manner, index);
    for (const TickSpan& span : manner.spans) play_span(manner, index, span);
    finish_pass(manner, index);
    if (index > 0) add_join(index, gap_beats);
  }

  practice::Review done() { return std::move(review_); }
  practice::Review& review() { return review_; }

 private:
  void begin_pass(const Manner& manner, int index) {
    follow::AlignedPass pass;
    pass.label = manner.label;
    pass.kind = index == 0 ? plan::PassKind::play_over : plan::PassKind::verse;
    pass.route_pass = index;
    pass.spans = manner.spans;
    pass.covered = {manner.spans.front().begin, manner.spans.back().end};
    for (const TickSpan& span : manner.spans) pass.quarters_covered += quarters(span.length());
    pass.complete = true;
    pass.textures = {plan::Texture::as_written};
    pass.first_note = review_.take.notes.size();
    pass.first_onset = instant_from_seconds(now_ms_ / 1000);
    review_.alignment.passes.push_back(pass);
    plan::RoutePass planned;
    planned.label = manner.label;
    planned.kind = pass.kind;
    planned.spans = manner.spans;
    planned.textures = {plan::Texture::as_written};
    review_.route.passes.push_back(planned);
    timing::PassMeasures measures;
    measures.pass = index;
    review_.timing.passes.push_back(measures);
    grid_ms_ = now_ms_;
    beat_ms_ = manner.beat_ms;
    played_ = 0;
  }

  void play_span(const Manner& manner, int index, TickSpan span) {
    for (Tick at = span.begin; at < span.end; at += kQ) {
      if (manner.troubled && at == 13 * kQ) hesitate(index, at);
      const double late = shaker_.next() * manner.jitter_ms;
      play_chord(manner, index, at, now_ms_ + late);
      add_beat(index, at, now_ms_ + late, late);
      now_ms_ += beat_ms_;
      beat_ms_ += manner.drag_ms;
      ++played_;
    }
  }

  void hesitate(int index, Tick at) {
    timing::Hesitation h;
    h.at = at;
    h.bar = music::bar_at(review_.score, at).number;
    h.beat = music::beat_in_bar(review_.score, at, kQ);
    h.extra_beats = 0.5;
    h.extra_ms = 0.5 * beat_ms_;
    now_ms_ += h.extra_ms;
    review_.timing.passes[static_cast<std::size_t>(index)].hesitations.push_back(h);
  }

  void play_chord(const Manner& manner, int index, Tick at, double ms) {
    for (std::size_t i = 0; i < review_.score.notes.size(); ++i) {
      const music::Note& note = review_.score.notes[i];
      if (note.onset != at) continue;
      if (manner.troubled && note.voice == 1 && at == 9 * kQ) {
        review_.alignment.missed.push_back({index, static_cast<int>(i)});
        continue;
      }
      if (note.voice == 2 && at == 10 * kQ) {
        review_.alignment.held.push_back({index, static_cast<int>(i)});
        continue;
      }
      const double late = note.voice == 3 ? manner.pedal_late_ms : 0;
      strike(note.pitch, ms + late, quarters(note.length) * beat_ms_ * 0.95, manner,
             {static_cast<int>(i), index, follow::MatchKind::matched});
      last_onset_ms_ = ms;
    }
    if (manner.troubled && (at == 6 * kQ || at == 21 * kQ)) {
      strike(61, ms + 20, 150, manner, {-1, index, follow::MatchKind::extra});
    }
  }

  void strike(int pitch, double on_ms, double length_ms, const Manner& manner,
              follow::NoteMatch match) {
    take::TakenNote note;
    note.on = instant_from_seconds(on_ms / 1000);
    note.off = instant_from_seconds((on_ms + length_ms) / 1000);
    note.sound_off = note.off;
    note.pitch = static_cast<std::uint8_t>(pitch);
    note.velocity = static_cast<std::uint8_t>(manner.velocity);
    review_.take.notes.push_back(note);
    review_.alignment.notes.push_back(match);
  }

  void add_beat(int index, Tick at, double ms, double late) {
    timing::Beat beat;
    beat.tick = at;
    beat.bar = music::bar_at(review_.score, at).number;
    beat.beat = music::beat_in_bar(review_.score, at, kQ);
    beat.played_s = ms / 1000;
    beat.struck = at <= review_.score.length - 3 * kQ;
    const double drift = ms - (grid_ms_ + played_ * kSetBeatMs);
    if (beat.struck) {
      beat.drift_ms = drift;
      beat.drift_beats = drift / kSetBeatMs;
      beat.running_drift_ms = drift + static_cast<double>(index) * 40;
      beat.pulse_ms = late;
    } else {
      const auto reason = Measured<double>::unknown("nothing is struck on this beat");
      beat.drift_ms = beat.drift_beats = beat.running_drift_ms = reason;
    }
    review_.timing.passes[static_cast<std::size_t>(index)].beats.push_back(beat);
  }

  void finish_pass(const Manner& manner, int index) {
    follow::AlignedPass& pass = review_.alignment.passes.back();
    pass.last_note = review_.take.notes.size() - 1;
    pass.last_onset = instant_from_seconds(last_onset_ms_ / 1000);
    pass.last_release = review_.take.notes.back().off;
    pass.last_sound = pass.last_release;
    last_beat_ms_ = beat_ms_;
    timing::PassMeasures& m = review_.timing.passes[static_cast<std::size_t>(index)];
    const double mean_ms = (manner.beat_ms + beat_ms_) / 2;
    m.tempo_bpm = 60000 / mean_ms;
    m.tempo_offset_percent = (kSetBeatMs / mean_ms - 1) * 100;
    m.tempo_uncertainty_percent = 0.4;
    m.trend_percent = (manner.beat_ms / beat_ms_ - 1) * 100 * 2 / 3;
    m.steadiness_percent = manner.jitter_ms / mean_ms * 82;
    m.end_drift_ms = m.beats[m.beats.size() - 6].drift_ms;
    m.pedal_lag = timing::LagMs{manner.pedal_late_ms, 9, static_cast<int>(m.beats.size()) - 2};
    m.left_hand_lag = Measured<timing::LagMs>::unknown("the hands play on one channel");
    m.releases.together_ms = 18;
    m.releases.smear_ms = Measured<double>::unknown("no note was held over");
    m.releases.sustain_share = 0;
    m.releases.repeats = 6;
    m.releases.repeats_unstruck = manner.troubled ? 2 : 0;
    for (const Tick at : {review_.score.phrases[0].span.end, review_.score.phrases[2].span.end}) {
      m.breaths.push_back({at, music::bar_at(review_.score, at - 1).number, 3, 0.3});
    }
  }

  void add_join(int index, double gap_beats) {
    const follow::AlignedPass& from = review_.alignment.passes[static_cast<std::size_t>(index - 1)];
    const follow::AlignedPass& to = review_.alignment.passes[static_cast<std::size_t>(index)];
    timing::JoinMeasures j;
    j.before = index - 1;
    j.after = index;
    j.last_onset_s = seconds(from.last_onset);
    j.release_s = seconds(from.last_release);
    j.onset_s = seconds(to.first_onset);
    j.silence_s = j.onset_s - j.release_s;
    const double beat_s = (j.onset_s - j.last_onset_s) / gap_beats;
    j.hold_beats = (j.release_s - j.last_onset_s) / beat_s;
    j.lift_beats = j.silence_s / beat_s;
    j.span_beats = gap_beats;
    j.planned_span_beats = 5;
    j.planned_hold_beats = 3;
    j.planned_lift_beats = 2;
    const double count = std::round(gap_beats - 5);
    const double phase = gap_beats - 5 - count;
    j.count_error_beats = static_cast<int>(count);
    j.phase_error_beats = phase;
    j.phase_error_ms = phase * beat_s * 1000;
    j.uncertainty_ms = 14;
    j.tolerance_ms = 0.05 * gap_beats * beat_s * 1000;
    j.likeness_beats = index == 1 ? Measured<double>::unknown("the join after the play-over")
                                  : Measured<double>(gap_beats - 5.03);
    j.settling_beats = 2;
    j.together_ms = 21;
    j.after_play_over = index == 1;
    j.verdict = count != 0    ? timing::JoinVerdict::miscounted
                : phase > 0.2 ? timing::JoinVerdict::late
                              : timing::JoinVerdict::in_time;
    review_.timing.joins.push_back(j);
  }

  practice::Review review_;
  Shaker shaker_;
  double now_ms_ = 1500;
  double grid_ms_ = 0;
  double beat_ms_ = 0;
  double last_onset_ms_ = 0;
  double last_beat_ms_ = 0;
  int played_ = 0;
};

void add_play_over(practice::Review& review) {
  timing::PlayOverMeasures p;
  p.pass = 0;
  p.verse = 1;
  p.tempo_bpm = review.timing.passes[0].tempo_bpm;
  p.verse_tempo_bpm = review.timing.passes[1].tempo_bpm;
  p.tempo_difference_percent = (*p.tempo_bpm / *p.verse_tempo_bpm - 1) * 100;
  p.slowing_percent = 1.2;
  p.mean_velocity = 52;
  p.verse_mean_velocity = 74;
  for (auto* loudness : {&p.loudness_sone, &p.verse_loudness_sone, &p.upper_loudness_sone,
                         &p.verse_upper_loudness_sone}) {
    *loudness = Measured<double>::unknown("no organ is described");
  }
  review.timing.play_over = p;
}

void add_troubles(practice::Review& review, std::size_t pass) {
  follow::AlignedPass& aligned = review.alignment.passes[pass];
  aligned.corrections.push_back(
      {6 * kQ, 61, 62, aligned.first_onset + Nanoseconds(5'320'000'000), Nanoseconds(240'000'000)});
  aligned.restarts.push_back({18 * kQ, 16 * kQ, aligned.first_onset + Nanoseconds(17'000'000'000),
                              Nanoseconds(1'900'000'000)});
}

void add_findings(practice::Review& review, int troubled) {
  using practice::FindingKind;
  const int late_join = troubled - 1;
  review.findings = {
      {FindingKind::join_late, -1, late_join, "", 380, "ms", 1.9, 1,
       "Enter verse 2 on its beat: after verse 1 you came in 0.4 beat late, so the people took "
       "the first word without you."},
      {FindingKind::dragging, troubled, -1, "", -5.6, "%", 1.9, 1,
       "Keep verse 2 moving: it lost 5.6 % from its first third to its last."},
      {FindingKind::play_over_timid, 0, -1, "", 22, "velocity", 1.4, 1,
       "Play the play-over as strongly as you mean to go on: it was much softer than verse 1."},
      {FindingKind::hesitation, troubled, -1, "4", 0.5, "beats", 1.3, 1,
       "Practise bar 4 slowly in rhythm: you waited half a beat before it in verse 2."},
      {FindingKind::feet_late, troubled, -1, "", 48, "ms", 1.2, 1,
       "Let the feet lead in verse 2: they came 48 ms after the hands."},
  };
  for (const practice::Finding& finding : review.findings) {
    review.advice.push_back(finding.sentence);
  }
  review.notices.push_back(
      {"the take names no tempo; its times are taken as they stand.", "saturday.mid", 0});
}

// At each join one movement: in the silence, in the chord, and none where one was planned.
void add_who_led(practice::Review& review) {
  crowd::WhoLed led;
  led.led = crowd::Led::gave_way;
  led.lag_ms = 96.0;
  led.slowing_percent = 5.2;
  led.uncertainty_percent = 1.1;
  led.sentence = "You gave way in verse 2: from 72 to 68 a minute.";
  crowd::VerseLed verse;
  verse.label = "2";
  verse.pass = 2;
  verse.beats = 30;
  verse.entry_ms = 240.0;
  verse.lag_ms = 96.0;
  verse.spread_ms = 12.0;
  verse.tempo_bpm = 70.1;
  verse.begin_bpm = 72.0;
  verse.end_bpm = 68.0;
  verse.slowing_percent = 5.9;
  verse.uncertainty_percent = Measured<double>::unknown("too few beats");
  verse.led = crowd::Led::gave_way;
  verse.phrases.push_back({1, 8, 90.0, 10.0, 71.0});
  led.verses.push_back(verse);
  review.led = led;
}

void add_stop_moves(practice::Review& review) {
  using advise::StopVerdict;
  review.stops.known = true;
  const auto& joins = review.timing.joins;
  for (std::size_t i = 0; i < joins.size(); ++i) {
    advise::JudgedMove move;
    move.join = static_cast<int>(i);
    if (i >= 2) {
      move.verdict = StopVerdict::left_out;
      move.after_release_ms = move.return_s = move.past_entry_ms =
          Measured<double>::unknown("nothing moved");
      review.stops.moves.push_back(move);
      continue;
    }
    move.when = advise::MoveWhen::before;
    const double after_release_s = i == 0 ? 0.25 : -0.12;
    move.first_s = joins[i].release_s + after_release_s;
    move.last_s = move.first_s + 0.02;
    move.controls = i == 0 ? "draws Great Fifteenth 2" : "presses Great 1";
    move.verdict = i == 0 ? StopVerdict::clean : StopVerdict::heard_in_the_chord;
    move.fault = i == 1;
    move.after_release_ms = after_release_s * 1000 + 20;
    move.return_s = i == 0 ? 0.56 : 0.0;
    move.past_entry_ms = (move.last_s + *move.return_s - joins[i].onset_s) * 1000;
    review.stops.moves.push_back(move);
  }
  std::vector<bool> moved(joins.size(), true);
  for (std::size_t i = 2; i < joins.size(); ++i) moved[i] = false;
  review.stops.comparison = timing::compare_joins(joins, moved);
  review.stops.elsewhere = 1;
}

}  // namespace

practice::Review sample_review(SampleSize size) {
  Player player(size);
  const music::Score& score = player.review().score;
  const std::vector<TickSpan> outer = {score.phrases.front().span, score.phrases.back().span};
  const std::vector<TickSpan> whole = {{0, score.length}};
  player.play({"play-over", 806, 0.1, 12, 12, 52, outer}, 0);
  for (int verse = 1; verse <= size.verses; ++verse) {
    const bool troubled = verse == 2;
    Manner manner{std::to_string(verse), 836, 0.05, 16, 18, 74, whole};
    if (troubled) manner = {"2", 838, 84.0 / (4 * size.bars), 34, 48, 73, whole, true};
    const double gap = troubled ? 5.42 : 5.0 + 0.03 * verse;
    player.play(manner, gap);
  }
  practice::Review review = player.done();
  add_play_over(review);
  add_stop_moves(review);
  add_who_led(review);
  if (size.verses >= 2) {
    add_troubles(review, 2);
    add_findings(review, 2);
  }
  return review;
}

}  // namespace loftbeat::testing
