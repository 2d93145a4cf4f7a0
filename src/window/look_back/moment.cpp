#include "window/look_back/moment.h"

#include <algorithm>

#include <QCoreApplication>

#include "report/numbers.h"
#include "report/trouble.h"
#include "report/words.h"
#include "practice/words.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

QString tell(const char* text) { return QCoreApplication::translate("look back", text); }

std::size_t bar_index(const music::Score& score, Tick at) {
  if (score.bars.empty()) return 0;
  return static_cast<std::size_t>(&music::bar_at(score, at) - score.bars.data());
}

const timing::PassMeasures* pass_of(const practice::Review& review, int pass) {
  const auto index = static_cast<std::size_t>(pass);
  return pass < 0 || index >= review.timing.passes.size() ? nullptr : &review.timing.passes[index];
}

QString drift_words(const timing::Beat& beat) {
  if (!beat.struck) return tell("nothing is struck on it");
  if (!beat.drift_ms) return words(beat.drift_ms.reason);
  const QString span = words(report::write_signed_span(*beat.drift_ms)).remove(0, 1);
  if (*beat.drift_ms > 0) return tell("%1 behind the set tempo").arg(span);
  if (*beat.drift_ms < 0) return tell("%1 ahead of the set tempo").arg(span);
  return tell("on the set tempo");
}

}  // namespace

Moment moment_of_beat(const practice::Review& review, int pass, int beat) {
  Moment moment;
  moment.pass = pass;
  moment.beat = beat;
  const timing::PassMeasures* measures = pass_of(review, pass);
  if (measures == nullptr || beat < 0 || static_cast<std::size_t>(beat) >= measures->beats.size())
    return moment;
  const timing::Beat& one = measures->beats[static_cast<std::size_t>(beat)];
  moment.bar = bar_index(review.score, one.tick);
  if (one.played_s) moment.hear_from_s = std::max(0.0, *one.played_s - kLeadInS);
  return moment;
}

Moment moment_of_join(const practice::Review& review, int join) {
  const timing::JoinMeasures& one = review.timing.joins[static_cast<std::size_t>(join)];
  const report::JoinEnds ends = report::join_ends(one);
  Moment moment;
  moment.pass = ends.earlier;
  const timing::PassMeasures* measures = pass_of(review, ends.earlier);
  if (measures != nullptr && !measures->beats.empty()) {
    moment = moment_of_beat(review, ends.earlier, static_cast<int>(measures->beats.size()) - 1);
  }
  moment.join = join;
  moment.hear_from_s = std::max(0.0, one.last_onset_s - kLeadInS);
  return moment;
}

std::optional<Moment> moment_of_finding(const practice::Review& review,
                                        const practice::Finding& finding) {
  if (finding.join >= 0) return moment_of_join(review, finding.join);
  const timing::PassMeasures* measures = pass_of(review, finding.pass);
  if (measures == nullptr || measures->beats.empty()) return std::nullopt;
  const auto found =
      std::find_if(measures->beats.begin(), measures->beats.end(),
                   [&](const timing::Beat& beat) { return beat.bar == finding.bar; });
  const bool here = !finding.bar.empty() && found != measures->beats.end();
  return moment_of_beat(review, finding.pass,
                        here ? static_cast<int>(found - measures->beats.begin()) : 0);
}

std::optional<Moment> moment_at(const practice::Review& review, double seconds) {
  std::optional<Moment> moment;
  double latest = -1;
  for (std::size_t pass = 0; pass < review.timing.passes.size(); ++pass) {
    const auto& beats = review.timing.passes[pass].beats;
    for (std::size_t beat = 0; beat < beats.size(); ++beat) {
      if (!beats[beat].played_s || *beats[beat].played_s > seconds) continue;
      if (*beats[beat].played_s < latest) continue;
      latest = *beats[beat].played_s;
      moment = moment_of_beat(review, static_cast<int>(pass), static_cast<int>(beat));
    }
  }
  return moment;
}

std::optional<Moment> bar_beside(const practice::Review& review, const Moment& moment, int step) {
  const timing::PassMeasures* measures = pass_of(review, moment.pass);
  if (measures == nullptr) return std::nullopt;
  const auto count = static_cast<int>(measures->beats.size());
  int beat = std::clamp(moment.beat, 0, std::max(0, count - 1));
  const auto bar_of_beat = [&](int index) {
    return bar_index(review.score, measures->beats[static_cast<std::size_t>(index)].tick);
  };
  while (beat >= 0 && beat < count && bar_of_beat(beat) == moment.bar) beat += step;
  if (beat < 0 || beat >= count) return std::nullopt;
  const std::size_t bar = bar_of_beat(beat);
  while (beat > 0 && bar_of_beat(beat - 1) == bar) --beat;  // its first beat
  return moment_of_beat(review, moment.pass, beat);
}

QString moment_words(const practice::Review& review, const Moment& moment) {
  if (moment.join >= 0) {
    const timing::JoinMeasures& join = review.timing.joins[static_cast<std::size_t>(moment.join)];
    QString text = tell("The join %1: %2")
                       .arg(words(practice::join_name(review, moment.join)),
                            words(std::string(report::verdict_words(join.verdict))));
    if (join.phase_error_ms && join.verdict != timing::JoinVerdict::in_time)
      text += QStringLiteral(", ") + words(report::write_signed_span(*join.phase_error_ms));
    return text + QLatin1Char('.');
  }
  const timing::PassMeasures* measures = pass_of(review, moment.pass);
  if (measures == nullptr || moment.beat < 0) return {};
  const timing::Beat& beat = measures->beats[static_cast<std::size_t>(moment.beat)];
  const std::string pass = practice::sentence_case(report::pass_name(review, moment.pass));
  return tell("%1, bar %2, beat %3: %4.")
      .arg(words(pass), words(beat.bar), words(report::write_short(beat.beat, report::kBeats)),
           drift_words(beat));
}

BarFaults faults_in_bar(const practice::Review& review, const Moment& moment) {
  BarFaults faults;
  if (moment.pass < 0 || moment.bar >= review.score.bars.size()) return faults;
  const music::Bar& bar = review.score.bars[moment.bar];
  const TickSpan span{bar.start, bar.start + bar.length};
  for (const follow::MissedNote& missed : review.alignment.missed) {
    const Tick onset = review.score.notes[static_cast<std::size_t>(missed.score)].onset;
    if (missed.pass == moment.pass && span.contains(onset)) faults.missed.push_back(missed.score);
  }
  const report::TroubleTable trouble = report::count_trouble(review);
  faults.wrong = trouble.passes.at(static_cast<std::size_t>(moment.pass)).at(moment.bar).wrong;
  return faults;
}

}  // namespace loftbeat::window
