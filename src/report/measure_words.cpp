#include <algorithm>
#include <cctype>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/measure_tables.h"
#include "report/numbers.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr NumberStyle kAcum{2, " acum"};
constexpr NumberStyle kSignedAcum{2, " acum", NumberStyle::Sign::always};
constexpr NumberStyle kSignedSone{1, " sone", NumberStyle::Sign::always};

std::string stop_name(const organ::Organ& organ, std::size_t stop) {
  return clean_text(organ::full_name(organ, organ.stops[stop]));
}

std::string swap_words(const organ::Organ& organ, const advise::Swap& swap) {
  return fmt::format("{} for {}: {}, lead {}", stop_name(organ, swap.in),
                     stop_name(organ, swap.out),
                     swap.change.acum ? write_number(*swap.change.acum, kSignedAcum) : "–",
                     write_number(swap.change.lead_sone, kSignedSone));
}

std::string_view kind_words(advise::Swap::Kind kind) {
  switch (kind) {
    case advise::Swap::Kind::string: return "string";
    case advise::Swap::Kind::reed: return "reed";
    case advise::Swap::Kind::flue: break;
  }
  return "principal or flute";
}

void append(std::string& words, const std::string& more) {
  if (more.empty()) return;
  words += words.empty() ? more : "; " + more;
}

template <typename Thing>
std::string names(const std::vector<Thing>& things, const std::vector<std::size_t>& indexes) {
  std::vector<std::string> all;
  for (const std::size_t i : indexes) all.push_back(clean_text(things[i].name));
  return fmt::format("{}", fmt::join(all, ", "));
}

}  // namespace

std::string measured_pass_name(const advise::PassMeasure& pass) {
  const std::string label = clean_text(pass.label);
  const bool verse = !label.empty() && std::all_of(label.begin(), label.end(),
                                                   [](char c) { return c >= '0' && c <= '9'; });
  if (label == "amen") return "Amen";
  return verse ? "verse " + label : label;
}

std::string drawn_words(const organ::Organ& organ, const organ::Registration& drawn) {
  std::vector<std::string> stops;
  for (const std::size_t stop : drawn.stops) stops.push_back(stop_name(organ, stop));
  std::string words = fmt::format("{}", fmt::join(stops, ", "));
  append(words, names(organ.couplers, drawn.couplers));
  append(words, names(organ.tremulants, drawn.tremulants));
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    const bool speaks = std::any_of(drawn.stops.begin(), drawn.stops.end(), [&](std::size_t stop) {
      return organ.stops[stop].division == d;
    });
    if (!speaks || !organ.divisions[d].box || drawn.swell[d] >= 1) continue;
    append(words, fmt::format("{} box {} % open", clean_text(organ.divisions[d].name),
                              write_short(100 * drawn.swell[d], {0, ""})));
  }
  if (drawn.crescendo > 0) append(words, fmt::format("crescendo at {}", drawn.crescendo));
  return words.empty() ? "nothing drawn" : words;
}

std::string loss_words(const advise::PassMeasure& pass) {
  std::string name = measured_pass_name(pass);
  name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
  if (!pass.silent_because.empty()) return fmt::format("{}: {}.", name, pass.silent_because);
  const room::PeopleEffect& effect = pass.effect;
  constexpr NumberStyle kTenths{1, ""};
  return fmt::format(
      "{}: of {} in the empty church {} are taken by absorption, {} covered by the singing; {} are "
      "left.",
      name, write_number(effect.empty_sone, kSone),
      write_number(effect.empty_sone - effect.full_sone, kTenths),
      write_number(effect.full_sone - effect.over_singing_sone, kTenths),
      write_number(effect.over_singing_sone, kTenths));
}

std::string upper_work_words(const advise::PlanMeasures& measures,
                             const advise::PassMeasure& pass) {
  if (!pass.upper) return "The upper work gives nothing: " + pass.upper.reason + ".";
  const advise::UpperWork& upper = *pass.upper;
  std::vector<std::string> stops;
  for (const std::size_t stop : upper.stops) stops.push_back(stop_name(measures.organ, stop));
  return fmt::format(
      "The upper work ({}) gives {} of lead: {} with it, {} without. Sharpness {} with it, {} "
      "without.",
      fmt::join(stops, ", "),
      write_number(upper.lead_with_sone - upper.lead_without_sone, kSignedSone),
      write_number(upper.lead_with_sone, kSone), write_number(upper.lead_without_sone, kSone),
      write_figure(upper.sharpness_with_acum, kAcum),
      write_figure(upper.sharpness_without_acum, kAcum));
}

std::vector<std::string> swap_lines(const advise::PlanMeasures& measures,
                                    const advise::PassMeasure& pass) {
  std::vector<std::string> lines;
  for (const auto kind :
       {advise::Swap::Kind::flue, advise::Swap::Kind::string, advise::Swap::Kind::reed}) {
    std::vector<const advise::Swap*> of_kind;
    for (const advise::Swap& swap : pass.swaps) {
      if (swap.kind == kind) of_kind.push_back(&swap);
    }
    if (of_kind.empty()) continue;
    std::string line = fmt::format("With a {}: {}", kind_words(kind),
                                   swap_words(measures.organ, *of_kind.front()));
    if (of_kind.size() > 1) {
      line += fmt::format(" (the least of {}); the most is {}", of_kind.size(),
                          swap_words(measures.organ, *of_kind.back()));
    }
    lines.push_back(line + ".");
  }
  return lines;
}

std::string extrapolation_words(const advise::PassMeasure& pass) {
  return fmt::format(
      "Of the loudness alone in the full church {} rests on bands for which the tables of "
      "absorption have no figure, of what is left over the singing {}.",
      write_number(100 * pass.full.extrapolated_share, {0, " %"}),
      write_number(100 * pass.effect.extrapolated_share, {0, " %"}));
}

}  // namespace loftbeat::report
