#include "options.h"

#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdlib>
#include <map>

#include "plan/read.h"

namespace loftbeat::simulate {
namespace {

std::vector<std::string> fields(const std::string& text) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == ':') {
      parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  return parts;
}

std::optional<FaultKind> fault_kind(const std::string& name) {
  for (int i = 0; i <= static_cast<int>(FaultKind::unwritten_interlude); ++i) {
    if (to_string(static_cast<FaultKind>(i)) == name) return static_cast<FaultKind>(i);
  }
  return std::nullopt;
}

std::optional<double> number(const std::string& text) {
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  if (text.empty() || *end != '\0') return std::nullopt;
  return value;
}

Error bad_fault(const std::string& text) {
  return {ErrorKind::wrong_use,
          "\"" + text + "\" is not a fault; expected kind:pass[:quarter[:amount]].",
          "",
          0,
          0,
          "For instance hesitation:2:-:0.6, with passes counted from 0, or \"all\"."};
}

// The plan, or what stands for it on the command line.
struct PlanWords {
  std::string plan, score, beat = "quarter", play_over = "auto", join;
  double tempo = 0;
  int verses = 0;
};

void add_plan_options(CLI::App& app, PlanWords& words) {
  app.add_option("plan", words.plan, "The plan to play");
  app.add_option("--score", words.score, "The score, in place of a plan");
  app.add_option("--tempo", words.tempo, "Beats a minute")->check(CLI::Range(20, 300));
  app.add_option("--beat", words.beat, "eighth, quarter, dotted-quarter, half or dotted-half");
  app.add_option("--verses", words.verses, "Number of verses")->check(CLI::Range(1, 200));
  app.add_option("--play-over", words.play_over, "none, all, or phrases by number");
  app.add_option("--join", words.join, "Hold and lift as 3+1, or bar");
}

Result<plan::Plan> plan_of(const PlanWords& words) {
  plan::Plan plan;
  if (!words.plan.empty()) {
    auto read = plan::read_plan(words.plan);
    if (!read) return read.error();
    plan = std::move(read).value();
  } else {
    auto beat = plan::parse_beat_unit(words.beat);
    if (!beat) return beat.error();
    plan.beat = *beat;
    auto play_over = plan::parse_play_over(words.play_over);
    if (!play_over) return play_over.error();
    plan.play_over = *play_over;
  }
  if (!words.score.empty()) plan.score_path = words.score;
  if (words.tempo > 0) plan.tempo_bpm = words.tempo;
  if (words.verses > 0) plan.verses = words.verses;
  if (!words.join.empty()) {
    auto join = plan::parse_join(words.join);
    if (!join) return join.error();
    plan.join = *join;
  }
  if (plan.score_path.empty()) {
    return Error{ErrorKind::wrong_use,           "no score is named.", "", 0, 0,
                 "Give a plan, or --score FILE."};
  }
  return plan;
}

// Spreads and lags beyond half a second are no playing.
const CLI::Range kMilliseconds(0.0, 500.0);

void add_time_options(CLI::App& app, Player& player) {
  const auto share = CLI::Range(0.0, 1.0);
  app.add_option("--tempo-factor", player.tempo.factor, "Of the set tempo")
      ->check(CLI::Range(0.5, 2.0));
  app.add_option("--wander", player.tempo.wander_percent, "Tempo wandering, percent")
      ->check(CLI::Range(0.0, 50.0));
  app.add_option("--drag", player.tempo.drag_percent, "Tempo lost within each pass, percent")
      ->check(CLI::Range(-50.0, 80.0));
  app.add_option("--rubato", player.tempo.rubato_percent, "Rubato within phrases, percent")
      ->check(CLI::Range(0.0, 80.0));
  app.add_option("--jitter", player.onset.jitter_ms, "SD of chords, ms")->check(kMilliseconds);
  app.add_option("--note-jitter", player.onset.note_jitter_ms, "SD of notes, ms")
      ->check(kMilliseconds);
  app.add_option("--spread", player.onset.spread_ms, "Chord spread, ms")
      ->check(CLI::Range(0.0, 120.0));
  app.add_option("--arpeggio", player.onset.arpeggio_share, "Share of rolled chords")->check(share);
  app.add_option("--pedal-lag", player.onset.pedal_lag_ms, "Feet behind the hands, ms")
      ->check(CLI::Range(-500.0, 500.0));
  app.add_option("--left-lag", player.onset.left_hand_lag_ms, "Left hand behind the right, ms")
      ->check(CLI::Range(-500.0, 500.0));
  app.add_option("--overlap", player.release.overlap_ms, "Legato overlap, ms")
      ->check(CLI::Range(-500.0, 500.0));
  app.add_option("--together", player.release.together_ms, "SD of common releases, ms")
      ->check(kMilliseconds);
  app.add_option("--breath-beats", player.phrase.breath_beats, "Length of a breath, beats")
      ->check(CLI::Range(0.0, 2.0));
  app.add_option("--gather", player.phrase.gather_beats, "Upbeat lengthened by, beats")
      ->check(CLI::Range(0.0, 2.0));
  app.add_option("--join-jitter", player.join.jitter_percent, "SD of join spans, percent")
      ->check(CLI::Range(0.0, 30.0));
}

void add_note_options(CLI::App& app, Player& player) {
  const auto share = CLI::Range(0.0, 1.0);
  app.add_option("--wrong", player.slip.wrong, "Share of wrong notes")->check(share);
  app.add_option("--missed", player.slip.missed, "Share of missed notes")->check(share);
  app.add_option("--extra", player.slip.extra, "Share of extra notes")->check(share);
  app.add_option("--doubled", player.slip.doubled, "Share of bouncing keys")->check(share);
  app.add_option("--trill", player.slip.trill, "Share of long tune notes trilled")->check(share);
  app.add_option("--runs", player.runs, "Times through the whole hymn")->check(CLI::Range(1, 50));
}

void add_console_options(CLI::App& app, Console& console) {
  const std::map<std::string, ChannelLayout> layouts = {
      {"one", ChannelLayout::one},
      {"hands-and-pedal", ChannelLayout::hands_and_pedal},
      {"hands-apart", ChannelLayout::hands_apart}};
  app.add_option("--channels", console.layout, "one, hands-and-pedal or hands-apart")
      ->transform(CLI::CheckedTransformer(layouts));
  app.add_flag("--coupled", console.coupled, "Right-hand keys come twice");
  app.add_option("--velocity", console.velocity, "Fixed or mean velocity")
      ->check(CLI::Range(1, 127));
  app.add_flag_callback(
      "--touch", [&console] { console.velocity_kind = VelocityKind::varied; }, "Velocity varies");
  app.add_option("--bunch", console.bunch_ms, "Wireless packets every so many ms")
      ->check(kMilliseconds);
  app.add_option("--stamp-jitter", console.stamp_jitter_ms, "Stamps late by up to, ms")
      ->check(kMilliseconds);
  app.add_option("--clock-drift", console.clock_drift_ppm, "Recorder's clock, parts a million")
      ->check(CLI::Range(-1e4, 1e4));
}

int tell(const Error& error) {
  std::fprintf(stderr, "loftbeat-simulate: %s\n", to_string(error).c_str());
  return error.kind == ErrorKind::wrong_use ? 2 : 3;
}

int add_faults(const std::vector<std::string>& texts, Player& player) {
  for (const std::string& text : texts) {
    auto fault = parse_fault(text);
    if (!fault) return tell(fault.error());
    player.faults.push_back(*fault);
  }
  return 0;
}

}  // namespace

Result<Fault> parse_fault(const std::string& text) {
  const std::vector<std::string> parts = fields(text);
  const auto kind = fault_kind(parts[0]);
  if (!kind || parts.size() < 2 || parts.size() > 4) return bad_fault(text);
  Fault fault;
  fault.kind = *kind;
  if (parts[1] != "all") {
    const auto pass = number(parts[1]);
    if (!pass || *pass < 0 || *pass > 1000) return bad_fault(text);
    fault.pass = static_cast<int>(*pass);
  }
  if (parts.size() > 2 && parts[2] != "-") {
    const auto quarter = number(parts[2]);
    if (!quarter || *quarter < 0 || *quarter > 1e6) return bad_fault(text);
    fault.tick = ticks_from_quarters(*quarter);
  }
  if (parts.size() > 3) {
    const auto amount = number(parts[3]);
    if (!amount || std::abs(*amount) > 1e4) return bad_fault(text);
    fault.amount = *amount;
  }
  return fault;
}

Asked read_options(int argc, char** argv) {
  Options options;
  PlanWords words;
  std::string breath = "out-of-note";
  std::vector<std::string> faults;
  CLI::App app("Plays a hymn as a person might, and writes the take with its full truth.");
  add_plan_options(app, words);
  add_time_options(app, options.player);
  add_note_options(app, options.player);
  add_console_options(app, options.player.console);
  app.add_option("--breath", breath, "none, out-of-note or added")
      ->check(CLI::IsMember({"none", "out-of-note", "added"}));
  app.add_option("--fault", faults, "kind:pass[:quarter[:amount]], may be repeated");
  app.add_option("--seed", options.seed, "Same seed, same bytes");
  app.add_option("--take", options.take_path, "MIDI file to write (- for standard output)");
  app.add_option("--truth", options.truth_path, "JSON file to write");
  app.set_config("--player", "", "A TOML file with any of these options");
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return {std::nullopt, app.exit(error) == 0 ? 0 : 2};
  }
  if (breath == "none") options.player.phrase.breath = BreathKind::none;
  if (breath == "added") options.player.phrase.breath = BreathKind::added;
  if (const int failed = add_faults(faults, options.player); failed != 0) {
    return {std::nullopt, failed};
  }
  auto plan = plan_of(words);
  if (!plan) return {std::nullopt, tell(plan.error())};
  options.plan = std::move(plan).value();
  return {std::move(options), 0};
}

}  // namespace loftbeat::simulate
