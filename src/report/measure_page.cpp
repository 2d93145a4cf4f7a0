#include "report/measure_page.h"

#include <fmt/format.h>

#include "report/measure_parts.h"
#include "report/measure_tables.h"
#include "report/page_parts.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr std::size_t kStopsAside = 6;

std::string head(const advise::PlanMeasures& measures) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
      "<title>{0}: the stops measured</title>\n{1}</head>\n<body>\n{2}"
      "<header><h1>{0}</h1>\n<p>The stops of each pass, in the empty church and with {3} people "
      "singing.</p>\n<p class=\"soft\">Organ: {4}. Church: {5}.</p></header>\n",
      escape_markup(measures.title), page_style(), page_patterns(), measures.people,
      escape_markup(measures.organ.name), escape_markup(measures.church));
}

std::string swatch(const char* look) {
  return fmt::format(
      "<svg class=\"swatch\" viewBox=\"0 0 22 14\" aria-hidden=\"true\"><rect x=\"1\" "
      "y=\"1\" width=\"20\" height=\"12\" class=\"{}\"/><rect x=\"1\" y=\"1\" "
      "width=\"20\" height=\"12\" class=\"outline\"/></svg>",
      look);
}

std::string octave_key(const advise::PassMeasure& pass) {
  std::string key = "<p class=\"key\">" + swatch("chord") + "left over the singing";
  if (pass.upper) key += " " + swatch("entry") + "of it given by the upper work";
  return key + " " + swatch("behind") + "covered by the singing " + swatch("ahead") +
         "taken by absorption</p>\n";
}

std::string overview(const advise::PlanMeasures& measures) {
  std::string html =
      "<section aria-labelledby=\"passes\"><h2 id=\"passes\">The passes</h2>\n"
      "<p class=\"soft\">Open ring: the empty church. Full ring: with the people, the organ alone. "
      "Square: what is left of its loudness over their singing. Sharpness is a ratio: the more "
      "bass, the less of it.</p>\n<figure>";
  html += passes_picture(measures) + "</figure>\n";
  std::vector<std::string> lines;
  for (const advise::PassMeasure& pass : measures.passes) lines.push_back(loss_words(pass));
  html += html_list("ul", lines);
  html += html_table(measured_passes_table(measures), "The passes in figures");
  html +=
      "<p class=\"soft\">Loudness in sone: twice the figure is twice as loud. Sharpness in acum: "
      "the "
      "more, the brighter. Over the singing of the full church: lead above the tune, support at "
      "the "
      "singers' own pitch, exposure from 2 kHz up.</p>\n";
  html += folded_table(over_time_table(measures), "The passes as they go on in time");
  html += folded_table(reverberation_table(measures), "Reverberation of the church");
  return html + "</section>\n";
}

std::string pass_section(const advise::PlanMeasures& measures, std::size_t number,
                         double octave_top, double people_top) {
  const advise::PassMeasure& pass = measures.passes[number];
  const std::string name = measured_pass_name(pass);
  std::string html = fmt::format(
      "<section class=\"pass\" aria-labelledby=\"pass{0}\"><h2 id=\"pass{0}\">{1}</h2>\n", number,
      escape_markup(name));
  html += paragraph(drawn_words(measures.organ, pass.drawn) + ".");
  if (!pass.silent_because.empty()) {
    return html + paragraph("Not measured: " + pass.silent_because + ".") + "</section>\n";
  }
  html += "<h3>What the people take, octave by octave</h3>\n" + octave_key(pass) + "<figure>" +
          octave_picture({pass, number, octave_top}) + "</figure>\n";
  html += paragraph(upper_work_words(measures, pass));
  html += folded_table(octave_table(pass), "Octave by octave, " + name);
  html += "<h3>As the church fills</h3>\n<figure>" + people_picture({pass, number, people_top}) +
          "</figure>\n";
  html += folded_table(people_table(pass), "As the church fills, " + name);
  html += "<h3>One stop more or less</h3>\n";
  html += html_table(stop_table(measures, pass, kStopsAside),
                     "The stops of each side that change sharpness most, " + name);
  html += "<p class=\"soft\">+ drawn, − pushed in; with the people there.</p>\n";
  const std::vector<std::string> swaps = swap_lines(measures, pass);
  if (!swaps.empty()) html += "<h3>One 8′ stop for another</h3>\n" + html_list("ul", swaps);
  html += fmt::format("<p class=\"soft\">{}</p>\n", escape_markup(extrapolation_words(pass)));
  return html + "</section>\n";
}

}  // namespace

std::string format_measures_page(const advise::PlanMeasures& measures) {
  std::string html = head(measures) + "<main>\n" + overview(measures);
  const double octave_top = top_of_octaves(measures);
  const double people_top = top_of_people(measures);
  for (std::size_t p = 0; p < measures.passes.size(); ++p) {
    html += pass_section(measures, p, octave_top, people_top);
  }
  return html +
         "</main>\n<footer><p class=\"soft\">Measured by Loftbeat. Loudness by ISO 532-1 "
         "(stationary), sharpness by DIN 45692, the church by Sabine's formula. The pipes are "
         "models, "
         "not measured ones: figures compare registrations, they do not promise levels.</p>"
         "</footer>\n</body></html>\n";
}

}  // namespace loftbeat::report
