#include "pipes/read_tone.h"

namespace loftbeat::pipes {
namespace {

constexpr std::size_t kMostFormants = 8;

void number(const TomlTable& at, std::string_view key, NumberRange range, double& into) {
  into = at[key].number(range).value_or(into);
}

void read_formants(const TomlItem& item, Tone& tone) {
  if (!item.present()) return;
  const std::vector<TomlItem> rows = item.items();
  if (rows.size() > kMostFormants) return item.refuse("at most 8 formants");
  tone.formants.clear();
  for (const TomlItem& row : rows) {
    const std::vector<TomlItem> parts = row.items();
    if (parts.size() != 3) {
      row.refuse("three numbers for each formant: Hz, dB and width in Hz");
      continue;
    }
    Formant formant;
    formant.hz = parts[0].number(NumberRange{20, 16000}).value_or(500);
    formant.db = parts[1].number(NumberRange{-40, 40}).value_or(0);
    formant.width_hz = parts[2].number(NumberRange{10, 10000}).value_or(100);
    tone.formants.push_back(formant);
  }
}

void read_tone(const TomlTable& at, Tone& tone) {
  number(at, "below", {0, 60}, tone.below_db);
  number(at, "corner", {1, 40}, tone.corner);
  number(at, "above", {0, 60}, tone.above_db);
  number(at, "corner-fall", {-1, 2}, tone.corner_fall);
  number(at, "even", {-80, 0}, tone.even_db);
  number(at, "even-rise", {0, 20}, tone.even_rise_db);
  number(at, "even-most", {-80, 0}, tone.even_most_db);
  read_formants(at["formants"], tone);
}

void read_speech(const TomlTable& at, Speech& speech) {
  number(at, "seconds", {0.005, 0.5}, speech.seconds);
  number(at, "fall", {0, 1}, speech.fall);
  number(at, "upper-late", {-0.9, 0.9}, speech.upper_late);
  number(at, "modes", {-200, 0}, speech.modes_db);
  number(at, "stretch", {0, 0.1}, speech.stretch);
  number(at, "chiff", {0, 40}, speech.chiff_db);
  number(at, "release", {0.02, 2}, speech.release_seconds);
}

}  // namespace

void read_making(const TomlTable& at, Rank& rank) {
  if (const auto tone = at["tone"].table()) read_tone(*tone, rank.tone);
  if (const auto speech = at["speech"].table()) read_speech(*speech, rank.speech);
  if (const auto wind = at["wind"].table()) {
    number(*wind, "noise", {-200, -10}, rank.wind.noise_db);
    number(*wind, "corner", {100, 16000}, rank.wind.corner_hz);
  }
  if (const auto scatter = at["scatter"].table()) {
    number(*scatter, "cents", {0, 1.5}, rank.scatter.cents);
    number(*scatter, "level", {0, 3}, rank.scatter.db);
  }
  if (const auto ensemble = at["ensemble"].table()) {
    rank.ensemble.voices =
        static_cast<int>((*ensemble)["voices"].integer({1, 32}).value_or(rank.ensemble.voices));
    number(*ensemble, "spread", {0, 30}, rank.ensemble.spread_cents);
  }
}

}  // namespace loftbeat::pipes
