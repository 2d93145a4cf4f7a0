#include "app/sound_options.h"

#include <charconv>
#include <utility>

#include <CLI/CLI.hpp>

#include "app/endings.h"

namespace loftbeat::app {
namespace {

constexpr double kDaySeconds = 86400;

std::optional<double> plain_number(std::string_view text) {
  double value = 0;
  const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (trouble != std::errc{} || end != text.data() + text.size() || text.empty())
    return std::nullopt;
  return value;
}

// In the help, the option stands in a group and takes a `value` of this kind.
CLI::Option* in(const std::string& group, CLI::Option* option, const char* value) {
  return option->type_name(value)->group(group);
}

// The numbers that an option takes; its help says them in words.
template <typename Number>
CLI::Validator within(Number least, Number most) {
  return CLI::Range(least, most).description("");
}

void add_what_is_played(CLI::App& app, SoundOrder& order) {
  app.add_option("PLAN", order.plan_path, "The plan to play (*.plan.toml)")->type_name("");
  const std::string played = "What is played";
  in(played, app.add_option("--take", order.take_path, "A recorded take (a MIDI file) instead"),
     "FILE");
  in(played,
     app.add_option("--chord", order.chord,
                    "One chord instead, as \"C4 E4 G4 + C2\"; after the + for the feet"),
     "KEYS");
  in(played,
     app.add_option("--seconds", order.chord_seconds,
                    "How long the chord is held, 0.1 to 600 seconds"),
     "S")
      ->check(within(0.1, 600.0));
  in(played,
     app.add_option("--manual", order.manual,
                    "The manual of the chord, if not the first that sounds"),
     "NAME");
  in(played, app.add_option("--pass", order.pass, "One pass alone: play-over, or a verse's number"),
     "LABEL");
  in(played, app.add_option("--bar", order.from_bar, "Start at this bar, as printed"), "BAR");
  in(played,
     app.add_option("--loop", order.loop_phrase, "Repeat one phrase, by its number, until Ctrl-C"),
     "PHRASE")
      ->check(within(1, 1000));
  in(played,
     app.add_option("--tempo", order.tempo, "Beats a minute, 20 to 300, in place of the plan's"),
     "BPM")
      ->check(within(20.0, 300.0));
}

void add_speed(CLI::App& app, SoundOrder& order) {
  in("What is played",
     app.add_option("--speed", order.speed_percent,
                    "Of a take: percent of its own speed, 25 to 400; its pitch stays"),
     "PERCENT")
      ->check(within(25.0, 400.0));
}

void add_what_sounds(CLI::App& app, SoundOrder& order) {
  const std::string sounds = "What sounds";
  in(sounds,
     app.add_option("--organ", order.organ_path, "The organ (*.organ.toml), if not the plan's"),
     "FILE");
  in(sounds,
     app.add_option("--stops", order.stops,
                    "Stops drawn throughout, with commas; in place of the plan's"),
     "NAMES");
  in(sounds, app.add_option("--couplers", order.couplers, "Couplers drawn besides --stops"),
     "NAMES");
  in(sounds, app.add_option("--swell", order.swell, "All swell boxes, 0 shut to 1 open"), "0..1")
      ->check(within(0.0, 1.0));
  in(sounds,
     app.add_option("--stop-changes", order.changes_path,
                    "Stops moved while it plays (*.changes.toml)"),
     "FILE");
  in(sounds,
     app.add_option("--church", order.church_path, "The church (*.church.toml), if not the plan's"),
     "FILE");
  in(sounds, app.add_option("--people", order.people, "How many people are in it, 0 to 10000"), "N")
      ->check(within(0, 10000));
  app.add_flag("--dry", order.dry, "No church: the pipes alone")->group(sounds);
}

void add_where_to(CLI::App& app, SoundOrder& order) {
  const std::string where = "Where to";
  in(where,
     app.add_option("--to", order.to_path, "Write a file, .wav or .flac, instead of playing"),
     "FILE");
  in(where, app.add_option("--device", order.device, "The sound device, by a part of its name"),
     "NAME");
  app.add_flag("--devices", order.list_devices, "List the sound devices")->group(where);
  in(where,
     app.add_option("--volume", order.volume_db, "Louder (+) or softer (-), in dB, -60 to 20"),
     "DB")
      ->check(within(-60.0, 20.0));
  in(where,
     app.add_option("--soundfont", order.soundfont,
                    "Another SoundFont, made from the same recipes"),
     "FILE");
}

void add_measure(CLI::App& app, SoundOrder& order) {
  const std::string measure = "Reckon instead of playing";
  app.add_flag_callback(
         "--measure", [&order] { order.what = SoundOrder::What::measure; },
         "Loudness, sharpness and lead of each pass, church empty and full")
      ->group(measure);
  in(measure,
     app.add_option("--json", order.json_path,
                    "Write every measure as JSON (- is standard output)"),
     "FILE");
  in(measure,
     app.add_option("--page", order.page_path,
                    "Write the measures as a page (- is standard output)"),
     "FILE");
}

Status check_measure(const WrittenSound& written) {
  const SoundOrder& order = written.order;
  const bool to_file = !order.json_path.empty() || !order.page_path.empty();
  if (order.what == SoundOrder::What::play) {
    if (!to_file) return {};
    return wrong_use("--json and --page go with --measure.", "Add --measure.");
  }
  if (order.plan_path.empty() || !order.take_path.empty() || !order.chord.empty())
    return wrong_use("--measure needs a plan, and no take or chord.",
                     "Name a plan; --stops and --pass may change what is measured of it.");
  const bool from = !written.from.empty() || !order.from_bar.empty();
  if (order.dry || from || !order.to_path.empty() || order.loop_phrase ||
      !order.changes_path.empty())
    return wrong_use(
        "--dry, --from, --bar, --to, --loop and --stop-changes do not go with --measure.",
        "Leave them out.");
  if (order.json_path == "-" && order.page_path == "-")
    return wrong_use("--json - and --page - cannot both go to standard output.",
                     "Write one of them to a file.");
  return {};
}

Status check_source(const SoundOrder& order) {
  if (!order.take_path.empty() && !order.chord.empty())
    return wrong_use("--take and --chord cannot both be played.", "Choose one.");
  if (order.plan_path.empty() && order.take_path.empty() && order.chord.empty())
    return wrong_use("nothing is named that could be played.",
                     "Name a plan, or give --take or --chord.");
  const bool plan_alone = order.take_path.empty() && order.chord.empty();
  if (order.take_path.empty() && order.speed_percent != 100)
    return wrong_use("--speed goes with --take.", "Give --tempo for a plan.");
  if (plan_alone) return {};
  if (!order.pass.empty() || order.loop_phrase || order.tempo || !order.from_bar.empty())
    return wrong_use("--pass, --bar, --loop and --tempo go with a plan that is played.",
                     "A take is started with --from and made slower or quicker with --speed.");
  return {};
}

}  // namespace

std::optional<double> seconds_from_text(const std::string& text) {
  const std::size_t colon = text.find(':');
  std::optional<double> minutes = 0;
  if (colon != std::string::npos) minutes = plain_number(std::string_view(text).substr(0, colon));
  const auto rest =
      plain_number(std::string_view(text).substr(colon == std::string::npos ? 0 : colon + 1));
  if (!minutes || !rest || !(*minutes >= 0) || !(*rest >= 0)) return std::nullopt;
  if (colon != std::string::npos && *rest >= 60) return std::nullopt;
  const double seconds = *minutes * 60 + *rest;
  return seconds <= kDaySeconds ? std::optional(seconds) : std::nullopt;
}

void add_sound_options(CLI::App& app, WrittenSound& written) {
  app.callback([&written] { written.given = true; });
  add_what_is_played(app, written.order);
  in("What is played",
     app.add_option("--from", written.from, "Start so far in, as 0:42 or 42 (seconds)"), "TIME");
  add_speed(app, written.order);
  add_what_sounds(app, written.order);
  add_where_to(app, written.order);
  add_measure(app, written.order);
  app.footer(
      "\nStart with the volume low, above all with headphones: full organ is loud. Ctrl-C "
      "silences everything.");
}

Result<SoundOrder> sound_order_from(const WrittenSound& written) {
  SoundOrder order = written.order;
  if (order.pass.rfind("verse ", 0) == 0) order.pass.erase(0, 6);  // as the tables write it
  if (order.list_devices) return order;
  if (Status status = check_source(order); !status) return status.error();
  if (Status status = check_measure(written); !status) return status.error();
  if (!written.from.empty()) {
    order.from_seconds = seconds_from_text(written.from);
    if (!order.from_seconds)
      return wrong_use("--from " + written.from + " is no time; expected one such as 0:42 or 42.",
                       "");
    if (!order.from_bar.empty())
      return wrong_use("--from and --bar cannot both say where to start.", "Choose one.");
  }
  if (!order.to_path.empty() && order.loop_phrase)
    return wrong_use("--loop plays until it is stopped and cannot be written to a file.",
                     "Leave out --loop or --to.");
  if (order.dry && (!order.church_path.empty() || order.people))
    return wrong_use("--dry leaves the church out; --church and --people say which.",
                     "Choose one.");
  return order;
}

}  // namespace loftbeat::app
