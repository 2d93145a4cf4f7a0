#include "app/listen_options.h"

#include <charconv>
#include <utility>

#include <CLI/CLI.hpp>

#include "app/endings.h"

namespace loftbeat::app {
namespace {

std::optional<int> whole_number(std::string_view text) {
  int value = 0;
  const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (trouble != std::errc{} || end != text.data() + text.size() || text.empty())
    return std::nullopt;
  return value;
}

// "join 2" after "join " -> 2.
std::optional<int> number_after(const std::string& text, std::string_view word) {
  if (text.rfind(word, 0) != 0) return std::nullopt;
  return whole_number(std::string_view(text).substr(word.size()));
}

CLI::Option* in_group(const std::string& group, CLI::Option* option, const char* value) {
  return option->type_name(value)->group(group);
}

void add_source_options(CLI::App& app, WrittenListen& written) {
  const std::string group = "What is listened to";
  in_group(group,
           app.add_option("--input", written.inputs,
                          "Part of a MIDI input's name, once for each; \"Great=name\" takes "
                          "all that comes from it for that division")
               ->expected(1)
               ->take_all(),
           "NAME");
  in_group(group,
           app.add_option("--own-input", written.order.own_input,
                          "Make an input of this name, to which other programs connect"),
           "NAME");
  in_group(group,
           app.add_option("--replay", written.order.replay_path,
                          "A take (MIDI file) instead of an input"),
           "TAKE");
  in_group(group,
           app.add_option("--speed", written.speed_percent,
                          "With --replay: percent of its pace, 10 to 1000; 0: as fast as can be")
               ->check(CLI::Range(0, 1000).description("")),
           "PERCENT");
  in_group(
      group,
      app.add_option("--only", written.only,
                     "A part alone, again and again: play-over, or \"join 2\" (after verse 2)"),
      "PART");
  in_group(group,
           app.add_option("--signal", written.signal,
                          "What begins and ends a practice from the keyboard: \"note 21\", or a "
                          "pedal as \"control 66\""),
           "MESSAGE");
  in_group(group,
           app.add_option("--sessions", written.order.sessions,
                          "The folder in which practices are kept; \"sessions\" if not given"),
           "FOLDER");
}

void add_heard_options(CLI::App& app, WrittenListen& written) {
  const std::string group = "What is heard and seen";
  in_group(group,
           app.add_option("--click", written.click,
                          "off, count-in (if not given), always, or rests: two bars heard, two "
                          "silent"),
           "WHEN");
  in_group(group,
           app.add_option("--count-in", written.order.count_in_bars,
                          "Bars counted before the first note, 0 to 4; 1 if not given")
               ->check(CLI::Range(0, 4).description("")),
           "BARS");
  in_group(group,
           app.add_option("--click-level", written.order.click_db,
                          "Peak of a click, -60 to -6 dB of full scale; -20 if not given")
               ->check(CLI::Range(-60, -6).description("")),
           "DB");
  app.add_flag("--sound", written.sound, "The organ's ranks speak, in the plan's church")
      ->group(group);
  in_group(group,
           app.add_option("--stops", written.stops,
                          "Who moves them: midi (if not given), keys (of the computer), or plan: "
                          "by themselves at each join"),
           "HOW");
  in_group(group,
           app.add_option("--device", written.order.device, "Part of the sound device's name"),
           "NAME");
  in_group(
      group,
      app.add_option("--volume", written.order.volume_db, "Of the ranks, -60 to 20 dB; begin low")
          ->check(CLI::Range(-60, 20).description("")),
      "DB");
  in_group(group,
           app.add_option("--singing", written.order.singing,
                          "So many people sing the verses along with you, 1 to 2000")
               ->check(CLI::Range(1, 2000).description("")),
           "PEOPLE");
  in_group(group,
           app.add_option("--reluctance", written.order.reluctance_percent,
                          "With --singing: percent by which they would go slower, 0 to 8; 3 if not "
                          "given")
               ->check(CLI::Range(0, 8).description("")),
           "PERCENT");
  in_group(group,
           app.add_option("--away", written.order.metres,
                          "With --singing: metres from you to them, 0 to 100; 20 if not given")
               ->check(CLI::Range(0, 100).description("")),
           "METRES");
  app.add_flag("--drift", written.drift,
               "Show while playing how far ahead or behind you are (most play better without)")
      ->group(group);
}

Status read_click(const WrittenListen& written, ListenOrder& order) {
  if (written.click.empty()) return {};
  for (const live::ClickMode mode : {live::ClickMode::off, live::ClickMode::count_in,
                                     live::ClickMode::always, live::ClickMode::rests}) {
    if (written.click == live::click_mode_word(mode)) order.click = mode;
  }
  if (order.click) return {};
  return wrong_use("--click " + written.click + " is not understood.",
                   "Expected off, count-in, always or rests.");
}

Status read_stops(const WrittenListen& written, ListenOrder& order) {
  using By = ListenOrder::StopsBy;
  if (written.stops.empty() || written.stops == "midi") return {};
  if (written.stops == "keys") {
    order.stops_by = By::computer_keys;
  } else if (written.stops == "plan") {
    order.stops_by = By::plan;
  } else {
    return wrong_use("--stops " + written.stops + " is not understood.",
                     "Expected midi, keys or plan.");
  }
  return {};
}

Status check_singing(const WrittenListen& written) {
  const ListenOrder standard;
  const bool stated = written.order.reluctance_percent != standard.reluctance_percent ||
                      written.order.metres != standard.metres;
  if (written.order.singing == 0 && stated)
    return wrong_use("--reluctance and --away go with --singing.",
                     "Say how many people sing, as --singing 60.");
  return {};
}

Status read_words(const WrittenListen& written, ListenOrder& order) {
  if (!written.signal.empty()) {
    order.signal = signal_from(written.signal);
    if (!order.signal)
      return wrong_use("--signal " + written.signal + " is not understood.",
                       "Write \"note 21\" or \"control 66\", with a number from 0 to 127.");
  }
  if (!written.only.empty()) {
    const auto only = only_from(written.only);
    if (!only)
      return wrong_use("--only " + written.only + " is not understood.",
                       "Write play-over, or \"join 2\" for the join after verse 2.");
    order.only = *only;
  }
  return {};
}

Status check_replay(const WrittenListen& written) {
  const ListenOrder& order = written.order;
  const bool inputs = !written.inputs.empty() || !order.own_input.empty();
  if (!order.replay_path.empty() && inputs)
    return wrong_use("--input or --own-input and --replay do not go together.",
                     "Leave one of them out.");
  if (order.replay_path.empty() && written.speed_percent != 100)
    return wrong_use("--speed goes with --replay.", "Add --replay, or leave it out.");
  if (written.speed_percent > 0 && written.speed_percent < 10)
    return wrong_use("--speed is below 10.", "Give 10 to 1000, or 0 for as fast as can be.");
  if (!order.replay_path.empty() && !written.click.empty() && written.click != "off")
    return wrong_use("--click and --replay do not go together: the take was not played to it.",
                     "Leave one of them out.");
  if (!order.replay_path.empty() && !written.only.empty())
    return wrong_use("--only and --replay do not go together.",
                     "A take is as it is: review it whole.");
  if (order.singing > 0 && !order.replay_path.empty() && written.speed_percent != 100)
    return wrong_use("people can only sing along at the take's own pace.",
                     "Leave --speed out, or --singing.");
  if (written.sound && written.speed_percent == 0)
    return wrong_use("--sound needs time to sound; --speed 0 leaves none.",
                     "Give --speed 100, or leave --sound out.");
  return {};
}

}  // namespace

InputChoice input_from(const std::string& text) {
  const std::size_t sign = text.find('=');
  if (sign == std::string::npos) return {text, ""};
  return {text.substr(sign + 1), text.substr(0, sign)};
}

std::optional<Signal> signal_from(const std::string& text) {
  const auto note = number_after(text, "note ");
  const auto control = number_after(text, "control ");
  const std::optional<int> number = note ? note : control;
  if (!number || *number < 0 || *number > 127) return std::nullopt;
  return Signal{note ? Signal::Kind::note : Signal::Kind::control, *number};
}

std::optional<Only> only_from(const std::string& text) {
  if (text == "play-over") return Only{Only::What::play_over, 0};
  const auto verse = number_after(text, "join ");
  if (!verse || *verse < 1) return std::nullopt;
  return Only{Only::What::join, *verse};
}

void add_listen_options(CLI::App& app, WrittenListen& written) {
  app.callback([&written] { written.given = true; });
  app.add_option("PLAN", written.order.plan_path, "The plan (*.plan.toml)")->type_name("");
  add_source_options(app, written);
  add_heard_options(app, written);
}

Result<ListenOrder> listen_order_from(const WrittenListen& written) {
  ListenOrder order = written.order;
  if (order.plan_path.empty()) return wrong_use("no plan is named.", "Name a *.plan.toml.");
  Status status = check_replay(written);
  if (status) status = check_singing(written);
  if (status) status = read_click(written, order);
  if (status) status = read_stops(written, order);
  if (status) status = read_words(written, order);
  if (!status) return status.error();
  for (const std::string& text : written.inputs) order.inputs.push_back(input_from(text));
  if (written.sound) order.ranks = ListenOrder::Ranks::speak;
  if (written.drift) order.shown = ListenOrder::Shown::place_and_drift;
  order.replay_times = written.speed_percent / 100;
  return order;
}

}  // namespace loftbeat::app
