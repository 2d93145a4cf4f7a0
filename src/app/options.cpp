#include "app/options.h"

#include <algorithm>
#include <memory>
#include <sstream>
#include <utility>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "app/hymn_options.h"
#include "app/listen_options.h"
#include "app/plain_errors.h"
#include "app/sound_options.h"
#include "music/score.h"
#include "plan/read.h"

namespace loftbeat::app {
namespace {

// The options as written.
struct Written {
  std::vector<std::string> files;
  std::string score;
  std::optional<double> tempo;
  std::string beat;
  std::string verses;
  std::string play_over;
  std::string join;
  std::string json;
  std::string page;
  std::string player;
};

constexpr const char* kAbout =
    "Loftbeat listens to a hymn that you have recorded and says what a congregation would have\n"
    "noticed: did the beat keep, were the verse joins in time, was the play-over a fair promise.";

constexpr const char* kReviewAbout =
    "Review a recorded take.\n"
    "  loftbeat review PLAN TAKE                             with a plan file (*.plan.toml)\n"
    "  loftbeat review --score FILE --tempo BPM [...] TAKE   without one";

constexpr const char* kSoundAbout =
    "Play a plan, a take or a chord on the model ranks, or write it to a sound file.\n"
    "  loftbeat sound PLAN --to hymn.flac                 the whole plan, with its registrations\n"
    "  loftbeat sound PLAN --pass 2 --bar 9               verse 2 from bar 9\n"
    "  loftbeat sound --organ FILE --stops \"Open Diapason 8\" --chord \"C4 E4 G4\"";

constexpr const char* kPlanAbout =
    "Check whether a plan's changes of stops can be carried out, and whether they are heard.\n"
    "  loftbeat plan PLAN                a plan (*.plan.toml)\n"
    "  loftbeat plan SERVICE             the hymns of a service (*.service.toml)\n"
    "  loftbeat plan PLAN --suggest      what to draw in each pass, by the plan's wishes\n"
    "  loftbeat plan PLAN --stop-list \"Great: Open Diapason 8, Principal 4; Pedal: Bourdon 16\"\n"
    "                                    the same on an organ that no file describes";

constexpr const char* kCardAbout =
    "Write the card for the music desk: for each verse the one thing to do, and where to look.\n"
    "  loftbeat card PLAN --to card.pdf           one hymn, A5\n"
    "  loftbeat card SERVICE --to sunday.pdf      a card for each hymn of a service, in order";

constexpr const char* kListenAbout =
    "Listen while you play, keep the practice, and review it.\n"
    "  loftbeat listen PLAN                          on the only MIDI input there is\n"
    "  loftbeat listen PLAN --input Great --input Pedal\n"
    "  loftbeat listen PLAN --only \"join 2\"          the join after verse 2, again and again\n"
    "  loftbeat listen PLAN --replay take.mid        a recorded take instead";

constexpr const char* kHistoryAbout =
    "Tell how each tune went over the practices that listen has kept.\n"
    "  loftbeat history                                 all tunes\n"
    "  loftbeat history azmon                           one, practice by practice\n"
    "  loftbeat history --service sunday.service.toml   what needs work most";

constexpr const char* kLearnAbout =
    "Learn what each stop, coupler and piston of a console sends, by moving it.\n"
    "  loftbeat learn ORGAN --to my.organ.toml";

constexpr const char* kDevicesAbout =
    "List the MIDI inputs and the sound devices of this computer, and say what does not answer.";

constexpr const char* kFooter =
    "\nEnds with 0 when reviewed, 2 for wrong use, 3 when a file cannot be read or makes no "
    "sense,\n"
    "4 when the take does not fit the score, 1 when the computer refuses (a full disk, say).";

// The help of `review` begins with both ways to call it; CLI11's own line adds nothing.
class NoUsageLine : public CLI::Formatter {
 public:
  std::string make_usage(const CLI::App*, std::string) const override { return "\n"; }
};

void add_review(CLI::App& app, Written& written) {
  app.formatter(std::make_shared<NoUsageLine>());
  app.add_option("FILES", written.files,
                 "The plan and the take (a MIDI file), or with --score only the take")
      ->expected(0, 2)
      ->type_name("")
      ->option_text("[PLAN] TAKE");
  const auto text = [&](const char* name, std::string& value, const char* type, const char* help) {
    return app.add_option(name, value, help)->type_name(type);
  };
  text("--score", written.score, "FILE", "The hymn: MusicXML (.musicxml, .mxl) or a MIDI file");
  app.add_option("--tempo", written.tempo, "Set tempo in beats a minute, 20 to 300")
      ->type_name("BPM");
  text("--beat", written.beat, "NOTE",
       "What a beat is: eighth, quarter (if not given), dotted-quarter, half or dotted-half");
  text("--verses", written.verses, "N",
       "How many verses, or auto (if not given): heard from the take");
  text("--play-over", written.play_over, "WHAT",
       "auto (if not given), none, all, first-and-last, or phrases by number, as 1 or 1,4");
  text("--join", written.join, "JOIN",
       "Planned verse join: beats of hold and lift, as 3+1, or bar when the metre runs on");
  text("--player", written.player, "FILE",
       "Learn your movement times from this take into a player file (begun if not there)");
  text("--json", written.json, "FILE", "Write every figure as JSON (- is standard output)");
  text("--page", written.page, "FILE", "Write a page to look at and print (- is standard output)");
  app.footer(kFooter);
}

void add_plan(CLI::App& app, PlanOrder& order, bool& given) {
  app.callback([&given] { given = true; });
  app.add_option("PLAN", order.path, "The plan, or the service")->type_name("");
  app.add_option("--organ", order.organ_path, "The organ (*.organ.toml), if not the plan's")
      ->type_name("FILE");
  app.add_option("--stop-list", order.stop_list,
                 "The organ in one line instead of a file: \"Great: Open Diapason 8, Principal 4; "
                 "Pedal: Bourdon 16\"")
      ->type_name("TEXT");
  app.add_option("--church", order.church_path, "The church (*.church.toml), if not the plan's")
      ->type_name("FILE");
  app.add_option("--people", order.people, "How many people are expected, 0 to 10000")
      ->type_name("N")
      ->check(CLI::Range(0, 10000).description(""));
  app.add_option("--player", order.player_path,
                 "Reckon with the movement times of a player file (see review --player)")
      ->type_name("FILE");
  app.add_flag("--suggest", order.suggest, "Suggest what to draw in each pass, up to three ways");
  app.add_option("--to", order.to_path,
                 "With --suggest: write the plan with what is suggested to a new file")
      ->type_name("FILE");
  app.add_option("--choice", order.choice, "With --to: which suggestion, 1 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 3).description(""));
}

void add_card(CLI::App& app, CardOrder& order, bool& given) {
  app.callback([&given] { given = true; });
  app.add_option("PLAN", order.plan.path, "The plan, or the service")->type_name("");
  app.add_option("--to", order.to_path,
                 "Where to write it: a name ending with .pdf, .html or .svg; - for HTML on "
                 "standard output")
      ->type_name("FILE");
  app.add_option("--organ", order.plan.organ_path, "The organ (*.organ.toml), if not the plan's")
      ->type_name("FILE");
  app.add_option("--stop-list", order.plan.stop_list,
                 "The organ in one line instead of a file: \"Great: Open Diapason 8, Principal 4; "
                 "Pedal: Bourdon 16\"")
      ->type_name("TEXT");
  app.add_option("--player", order.plan.player_path,
                 "Reckon with the movement times of a player file (see review --player)")
      ->type_name("FILE");
}

// One organ, not two; and a list with something in it.
Status check_organ(const PlanOrder& order) {
  if (!order.stop_list.empty() && !order.organ_path.empty())
    return wrong_use("--organ and --stop-list both say which organ.", "Leave one of them out.");
  return {};
}

void add_history(CLI::App& app, HistoryOrder& order, bool& given) {
  app.callback([&given] { given = true; });
  app.add_option("TUNE", order.tune, "Part of a tune's name")->type_name("");
  app.add_option("--sessions", order.sessions,
                 "The folder in which practices are kept; \"sessions\" if not given")
      ->type_name("FOLDER");
  app.add_option("--service", order.service_path,
                 "Which of the hymns of a service (*.service.toml) needs work most")
      ->type_name("FILE");
  app.add_option("--page", order.page_path,
                 "Write a page to look at and print (- is standard output)")
      ->type_name("FILE");
}

struct WrittenLearn {
  LearnOrder order;
  std::vector<std::string> inputs;
  bool given = false;
};

void add_learn(CLI::App& app, WrittenLearn& written) {
  app.callback([&written] { written.given = true; });
  app.add_option("ORGAN", written.order.organ_path, "The organ (*.organ.toml)")->type_name("");
  app.add_option("--input", written.inputs, "Part of a MIDI input's name; once for each")
      ->type_name("NAME")
      ->expected(1)
      ->take_all();
  app.add_option("--to", written.order.to_path, "Where the organ with what was learned is written")
      ->type_name("FILE");
}

Result<LearnOrder> learn_order_from(const WrittenLearn& written) {
  LearnOrder order = written.order;
  if (order.organ_path.empty()) return wrong_use("no organ is named.", "Name a *.organ.toml.");
  if (order.to_path.empty())
    return wrong_use("--to is missing; what is learned is written to a new file.",
                     "Add --to my.organ.toml.");
  for (const std::string& text : written.inputs) order.inputs.push_back(input_from(text));
  return order;
}

Status check_card_order(const CardOrder& order) {
  if (Status status = check_organ(order.plan); !status) return status;
  if (order.plan.path.empty())
    return wrong_use("no plan is named.", "Name a *.plan.toml or a *.service.toml.");
  if (order.to_path.empty())
    return wrong_use("--to is missing; a card is written to a file.",
                     "Add --to card.pdf, or a name ending with .html or .svg.");
  const std::string& path = order.to_path;
  if (path == "-" || path.ends_with(".pdf") || path.ends_with(".html") || path.ends_with(".svg"))
    return {};
  return wrong_use(fmt::format("--to {} does not say what to write.", path),
                   "End the name with .pdf, .html or .svg.");
}

// What goes only with something else.
Status check_plan_order(const PlanOrder& order) {
  if (Status status = check_organ(order); !status) return status;
  if (order.path.empty())
    return wrong_use("no plan is named.", "Name a *.plan.toml or a *.service.toml.");
  if (!order.suggest && (!order.to_path.empty() || order.choice != 1))
    return wrong_use("--to and --choice go with --suggest.", "Add --suggest, or leave them out.");
  if (order.to_path.empty() && order.choice != 1)
    return wrong_use("--choice says which suggestion --to writes.", "Add --to FILE.");
  return {};
}

Status check_against_plan(const Written& w) {
  if (w.files.size() != 2) {
    return wrong_use(w.files.empty() ? "no file is named; a review needs a plan and a take."
                                     : "only one file is named; a review needs a plan and a take.",
                     "Name both, or give --score and --tempo instead of the plan.");
  }
  const bool extra =
      w.tempo || !w.beat.empty() || !w.verses.empty() || !w.play_over.empty() || !w.join.empty();
  if (!extra) return {};
  return wrong_use(
      "--tempo, --beat, --verses, --play-over and --join go with --score, not with a plan.",
      "Change the plan file, or leave the plan out.");
}

Status check_against_score(const Written& w) {
  if (w.files.size() != 1) {
    return wrong_use(fmt::format("--score is given and {} besides; expected one, the take.",
                                 w.files.empty() ? "no file" : "two files"),
                     "A plan names its own score.");
  }
  if (!w.tempo) {
    return wrong_use("--score is given without --tempo.",
                     "Say how fast it was meant to go, as --tempo 72.");
  }
  if (!(*w.tempo >= 20 && *w.tempo <= 300)) {
    return wrong_use(
        fmt::format("--tempo {} is out of range; expected 20 to 300 beats a minute.", *w.tempo),
        "Choose the note with --beat if the beat is a longer one.");
  }
  return {};
}

Status read_verses(const std::string& text, std::optional<int>& verses) {
  if (text.empty() || text == "auto") return {};
  const bool digits = text.size() <= 3 && std::all_of(text.begin(), text.end(),
                                                      [](char c) { return c >= '0' && c <= '9'; });
  const int number = digits ? std::stoi(text) : 0;
  if (number < 1 || number > music::kMaxVerses) {
    return wrong_use(fmt::format("--verses {} is not understood; expected 1 to {}, or auto.", text,
                                 music::kMaxVerses),
                     "");
  }
  verses = number;
  return {};
}

// The plan's readers of single values speak of values; the option's name is put before.
template <typename Value, typename Target>
Status take_value(const char* option, const std::string& text,
                  Result<Value> (*read)(std::string_view), Target& target) {
  if (text.empty()) return {};
  Result<Value> value = read(text);
  if (!value) {
    Error error = value.error();
    error.kind = ErrorKind::wrong_use;
    error.message = fmt::format("{} {}: {}", option, text, error.message);
    return error;
  }
  target = std::move(*value);
  return {};
}

Result<plan::Plan> plan_from(const Written& w) {
  plan::Plan plan;
  plan.score_path = w.score;
  plan.tempo_bpm = *w.tempo;
  Status status = read_verses(w.verses, plan.verses);
  if (status) status = take_value("--beat", w.beat, plan::parse_beat_unit, plan.beat);
  if (status)
    status = take_value("--play-over", w.play_over, plan::parse_play_over, plan.play_over);
  if (status) status = take_value("--join", w.join, plan::parse_join, plan.join);
  if (!status) return status.error();
  return plan;
}

Result<ReviewOrder> order_from(const Written& w) {
  ReviewOrder order;
  order.json_path = w.json;
  order.player_path = w.player;
  order.page_path = w.page;
  if (w.json == "-" && w.page == "-") {
    return wrong_use("--json - and --page - cannot both go to standard output.",
                     "Write one of them to a file.");
  }
  const bool with_plan = w.score.empty();
  const Status status = with_plan ? check_against_plan(w) : check_against_score(w);
  if (!status) return status.error();
  order.take_path = w.files.back();
  if (with_plan) {
    order.plan_path = w.files.front();
    return order;
  }
  Result<plan::Plan> plan = plan_from(w);
  if (!plan) return plan.error();
  order.plan = std::move(*plan);
  return order;
}

Invocation ended(int code, std::string output, std::string errors) {
  Invocation invocation;
  invocation.code = code;
  invocation.output = std::move(output);
  invocation.errors = std::move(errors);
  return invocation;
}

Invocation refused(const std::string& message, const std::string& command) {
  return ended(kWrongUse, "",
               fmt::format("loftbeat: {}\nSee loftbeat {} --help.\n", message, command));
}

Invocation parse(CLI::App& app, std::vector<std::string> words, const std::string& command) {
  std::reverse(words.begin(), words.end());  // as CLI11 wants them
  try {
    app.parse(std::move(words));
  } catch (const CLI::Success& told) {  // --help, --version
    std::ostringstream out;
    std::ostringstream errors;
    app.exit(told, out, errors);
    return ended(kReviewed, out.str(), errors.str());
  } catch (const CLI::ParseError& error) {
    return refused(plain_words(error, *app.get_subcommand(command)), command);
  }
  return {};
}

// The options of every command as written.
struct AllWritten {
  Written review;
  WrittenSound sound;
  PlanOrder plan;
  bool plan_given = false;
  CardOrder card;
  bool card_given = false;
  WrittenListen listen;
  HistoryOrder history;
  bool history_given = false;
  WrittenLearn learn;
  WrittenHymns hymns;
  WrittenExport exported;
};

void add_commands(CLI::App& app, AllWritten& written) {
  add_review(*app.add_subcommand("review", kReviewAbout), written.review);
  add_sound_options(*app.add_subcommand("sound", kSoundAbout), written.sound);
  add_plan(*app.add_subcommand("plan", kPlanAbout), written.plan, written.plan_given);
  add_card(*app.add_subcommand("card", kCardAbout), written.card, written.card_given);
  add_listen_options(*app.add_subcommand("listen", kListenAbout), written.listen);
  add_history(*app.add_subcommand("history", kHistoryAbout), written.history,
              written.history_given);
  add_learn(*app.add_subcommand("learn", kLearnAbout), written.learn);
  add_hymns(app, written.hymns);
  add_export(app, written.exported);
  app.add_subcommand("devices", kDevicesAbout);
}

// An order that may make no sense.
template <typename Order>
Result<Order> checked(const Order& order, const Status& status) {
  if (!status) return status.error();
  return order;
}

template <typename Order>
Invocation ordered(Result<Order> order, std::optional<Order> Invocation::*member,
                   const std::string& command) {
  if (!order) return refused(to_string(order.error()), command);
  Invocation invocation;
  invocation.*member = std::move(*order);
  return invocation;
}

Invocation order_of(const AllWritten& w, const std::string& command) {
  if (w.plan_given)
    return ordered(checked(w.plan, check_plan_order(w.plan)), &Invocation::plan, command);
  if (w.history_given) return ordered(checked(w.history, {}), &Invocation::history, command);
  if (w.hymns.given) return ordered(hymns_order_from(w.hymns), &Invocation::hymns, command);
  if (w.exported.given)
    return ordered(export_order_from(w.exported), &Invocation::export_score, command);
  if (w.learn.given) return ordered(learn_order_from(w.learn), &Invocation::learn, command);
  if (w.listen.given) return ordered(listen_order_from(w.listen), &Invocation::listen, command);
  if (w.card_given)
    return ordered(checked(w.card, check_card_order(w.card)), &Invocation::card, command);
  if (w.sound.given) return ordered(sound_order_from(w.sound), &Invocation::sound, command);
  if (command == "devices") {
    Invocation invocation;
    invocation.devices = true;
    return invocation;
  }
  return ordered(order_from(w.review), &Invocation::order, command);
}

}  // namespace

Invocation read_command_line(const std::vector<std::string>& words) {
  CLI::App app(kAbout, "loftbeat");
  app.set_version_flag("--version", "loftbeat " LOFTBEAT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "\nSee loftbeat review --help, and the same for listen, sound, plan, card, history, "
      "learn, hymns, export and devices.");
  AllWritten written;
  add_commands(app, written);
  if (words.empty()) return ended(kWrongUse, "", app.help());
  const std::vector<std::string> commands = {"review",  "listen", "sound", "plan",   "card",
                                             "history", "learn",  "hymns", "export", "devices"};
  const bool option = words.front().rfind('-', 0) == 0;
  const bool known = std::count(commands.begin(), commands.end(), words.front()) > 0;
  if (!known && words.front() != "--help" && words.front() != "-h" && words.front() != "--version")
    return ended(kWrongUse, "",
                 fmt::format("loftbeat: {}\nSee loftbeat --help.\n",
                             option ? "name the command first, then its options."
                                    : no_such_command(words.front(), commands)));
  const std::string& command = known ? words.front() : commands.front();
  Invocation invocation = parse(app, words, command);
  const bool told = !invocation.output.empty() || !invocation.errors.empty();
  return told ? invocation : order_of(written, command);
}

}  // namespace loftbeat::app
