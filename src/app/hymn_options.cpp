#include "app/hymn_options.h"

#include <CLI/CLI.hpp>

#include "app/endings.h"
#include "app/listen_options.h"

namespace loftbeat::app {
namespace {

constexpr const char* kHymnsAbout =
    "List the hymns of a folder of scores, or name one by playing its first line.\n"
    "  loftbeat hymns FOLDER                    all of them; a file of several tunes will do too\n"
    "  loftbeat hymns FOLDER lamps lit          those with these words\n"
    "  loftbeat hymns FOLDER --metre 8.6.8.6    those to which these words can be sung\n"
    "  loftbeat hymns FOLDER --play             which hymn is played, in any key";

constexpr const char* kExportAbout =
    "Write a score that Loftbeat reads as MusicXML or as a MIDI file.\n"
    "  loftbeat export hymn.abc --to hymn.musicxml\n"
    "  loftbeat export tunes.abc#3 --to third.mid";

}  // namespace

void add_hymns(CLI::App& parent, WrittenHymns& written) {
  CLI::App& app = *parent.add_subcommand("hymns", kHymnsAbout);
  app.callback([&written] { written.given = true; });
  app.add_option("FOLDER", written.order.folder, "The folder of scores, or one file")
      ->type_name("");
  app.add_option("WORDS", written.words, "Words of the title, the tune's name or the first line")
      ->type_name("");
  app.add_option("--metre", written.order.metre,
                 "Only hymns of this metre of words, as 8.6.8.6, 87.87.D or CM")
      ->type_name("METRE");
  app.add_flag("--play", written.order.play, "Name the tune that is played on a MIDI keyboard");
  app.add_option("--input", written.inputs, "Part of a MIDI input's name; once for each")
      ->type_name("NAME")
      ->expected(1)
      ->take_all();
  app.add_option("--take", written.order.take_path, "Name the tune of a recorded take")
      ->type_name("FILE");
  app.add_option("--replay", written.order.replay_path,
                 "With --play: a recorded take instead of a keyboard")
      ->type_name("FILE");
  app.add_option("--json", written.order.json_path,
                 "Write everything as JSON (- is standard output)")
      ->type_name("FILE");
  app.add_flag("--afresh", written.order.afresh, "Read all files again, changed or not");
}

void add_export(CLI::App& parent, WrittenExport& written) {
  CLI::App& app = *parent.add_subcommand("export", kExportAbout);
  app.callback([&written] { written.given = true; });
  app.add_option("SCORE", written.order.score_path, "The score")->type_name("");
  app.add_option("--to", written.order.to_path,
                 "Where to write it: a name ending with .musicxml or .mid")
      ->type_name("FILE");
}

Result<HymnsOrder> hymns_order_from(const WrittenHymns& written) {
  HymnsOrder order = written.order;
  if (order.folder.empty())
    return wrong_use("no folder is named.", "Name the folder in which your scores lie.");
  for (const std::string& word : written.words)
    order.words += (order.words.empty() ? "" : " ") + word;
  for (const std::string& text : written.inputs) order.inputs.push_back(input_from(text));
  if (order.play && !order.take_path.empty())
    return wrong_use("--play and --take both say what is heard.", "Leave one of them out.");
  if (!order.play && (!order.inputs.empty() || !order.replay_path.empty()))
    return wrong_use("--input and --replay go with --play.", "Add --play, or leave them out.");
  if (order.play && !order.json_path.empty())
    return wrong_use("--json does not go with --play.", "Record the line and name it with --take.");
  return order;
}

Result<ExportOrder> export_order_from(const WrittenExport& written) {
  if (written.order.score_path.empty())
    return wrong_use("no score is named.", "Name a MusicXML, ABC or MIDI file.");
  if (written.order.to_path.empty())
    return wrong_use("--to is missing; a score is written to a file.",
                     "Add --to hymn.musicxml or --to hymn.mid.");
  if (!names_a_score_format(written.order.to_path))
    return wrong_use("--to " + written.order.to_path + " does not say what to write.",
                     "End the name with .musicxml or .mid.");
  return written.order;
}

}  // namespace loftbeat::app
