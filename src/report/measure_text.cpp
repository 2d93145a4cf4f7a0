#include "report/measure_text.h"

#include <fmt/format.h>

#include "report/measure_tables.h"
#include "report/text_writer.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr std::size_t kStopsAside = 4;

void write_pass(TextWriter& text, const advise::PlanMeasures& measures,
                const advise::PassMeasure& pass) {
  text.heading(fmt::format("{}: what {} people take", measured_pass_name(pass), measures.people));
  text.line(drawn_words(measures.organ, pass.drawn) + ".");
  if (!pass.silent_because.empty()) {
    text.line("Not measured: " + pass.silent_because + ".");
    return;
  }
  text.table(octave_table(pass));
  text.line(upper_work_words(measures, pass));
  text.note(extrapolation_words(pass));
  text.gap();
  text.table(people_table(pass));
  text.gap();
  text.table(stop_table(measures, pass, kStopsAside));
  for (const std::string& line : swap_lines(measures, pass)) text.item("  ", line);
}

}  // namespace

std::string measure_text(const advise::PlanMeasures& measures, const TerminalStyle& style) {
  TextWriter text(style);
  text.heading(fmt::format("{}: the stops, empty and with {} people", clean_text(measures.title),
                           measures.people));
  const bool one_name = measures.organ.name == measures.church;
  text.line(fmt::format("{}{}. All the people sing; the listener sits among them.",
                        clean_text(measures.organ.name),
                        one_name ? "" : ", in " + clean_text(measures.church)));
  text.table(measured_passes_table(measures));
  text.note(
      "Loudness in sone (twice the figure is twice as loud), sharpness in acum (the more, the "
      "brighter). Lead: what is heard over the singing above the tune; support: at the singers' "
      "own pitch; exposure: from 2 kHz up. Full: with so many people as are asked for. Nobody "
      "sings "
      "in a play-over: there the figures over the singing say what its stops would come to in a "
      "verse, to be held against verse 1's.");
  for (const advise::PassMeasure& pass : measures.passes) text.item("  ", loss_words(pass));
  text.heading("As it goes on");
  text.table(over_time_table(measures));
  text.note(
      "N5, N50, N95: the sone exceeded for 5, 50 and 95 % of the time, of tenths of a second; our "
      "own figures. Acum: the median.");
  text.heading("The church");
  text.table(reverberation_table(measures));
  for (const advise::PassMeasure& pass : measures.passes) write_pass(text, measures, pass);
  text.note(
      "Level: the change of any sound when the people come in. Lost: loudness of the organ taken "
      "by "
      "absorption, and covered by the singing. + is a stop drawn, − one pushed in. The pipes are "
      "models, not measured ones.");
  return text.done();
}

}  // namespace loftbeat::report
