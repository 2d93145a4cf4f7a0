#include "report/hymns_text.h"

#include <cstdlib>

#include <fmt/format.h>

#include "report/text_writer.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

using practice::Certainty;
using practice::Hymn;
using practice::TuneMatch;

constexpr std::size_t kInFull = 4;
constexpr std::size_t kUnreadShown = 20;
constexpr int kWideTerminal = 118;  // columns from which the table has all of its own

// Cut to so many columns, at its end or, for files, at its beginning.
enum class CutAt { end, beginning };
std::string cut(const std::string& text, std::size_t columns, CutAt at = CutAt::end) {
  std::string clean = clean_text(text);
  if (display_width(clean) <= columns) return clean;
  const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
  while (display_width(clean) >= columns) {
    if (at == CutAt::end) {
      while (continues(clean.back())) clean.pop_back();
      clean.pop_back();
    } else {
      std::size_t first = 1;
      while (first < clean.size() && continues(clean[first])) ++first;
      clean.erase(0, first);
    }
  }
  return at == CutAt::end ? clean + "…" : "…" + clean;
}

std::string replaced(std::string text, const std::string& what, const std::string& with) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at))
    text.replace(at, what.size(), with);
  return text;
}

// "B♭", "E min".
std::string short_key(const Hymn& hymn) {
  std::string key = replaced(practice::key_words(hymn), " flat", "♭");
  key = replaced(replaced(key, " sharp", "♯"), " major", "");
  return replaced(key, " minor", " min");
}

// Where a file states no metre its bars are as long as they come.
constexpr int kMostBeats = 12;

std::string time_of(const Hymn& hymn) {
  if (hymn.beats > kMostBeats) return "free";
  return fmt::format("{}/{}", hymn.beats, hymn.beat_type);
}

std::string count_or_dash(int count) { return count > 0 ? std::to_string(count) : "–"; }

std::string counted(std::size_t count, const char* one, const char* many) {
  return count == 1 ? fmt::format("1 {}", one) : fmt::format("{} {}", count, many);
}

void write_in_full(TextWriter& text, const Hymn& hymn) {
  text.heading(clean_text(practice::hymn_name(hymn)));
  const auto add = [&](const std::string& words) { text.item("  ", words); };
  if (!hymn.tune.empty()) add("Tune: " + clean_text(hymn.tune));
  if (!hymn.first_line.empty()) add("Begins: " + clean_text(hymn.first_line));
  if (hymn.metre_source != practice::MetreSource::none) {
    const bool counted_here = hymn.metre_source == practice::MetreSource::counted;
    add("Metre of the words: " + music::format_poetic_metre(hymn.poetic_metre) +
        (counted_here ? " (counted in verse 1)" : ""));
  }
  add(fmt::format("{}, {}{}, {}{}", practice::key_words(hymn), time_of(hymn),
                  hymn.upbeat ? " with an upbeat" : "",
                  counted(static_cast<std::size_t>(hymn.bars), "bar", "bars"),
                  hymn.phrases > 0
                      ? ", " + counted(static_cast<std::size_t>(hymn.phrases), "line", "lines")
                      : std::string()));
  add((hymn.verses > 0
           ? counted(static_cast<std::size_t>(hymn.verses), "verse", "verses") + " with words, "
           : std::string("no words, ")) +
      "keys " + practice::range_words(hymn));
  add("File: " + clean_text(hymn.where));
}

void write_unread(TextWriter& text, const practice::HymnIndex& index) {
  std::vector<const practice::UnreadHymn*> unread;
  std::size_t playing = 0;
  for (const practice::UnreadHymn* one : practice::all_unread(index)) {
    if (!one->playing) unread.push_back(one);
    playing += one->playing ? 1 : 0;
  }
  if (playing > 0)
    text.line(counted(playing, "MIDI file is recorded playing and is left out.",
                      "MIDI files are recorded playing and are left out."));
  if (unread.empty()) return;
  text.gap();
  text.line(counted(unread.size(), "score could not be read:", "scores could not be read:"));
  for (std::size_t i = 0; i < std::min(unread.size(), kUnreadShown); ++i)
    text.item("  ", clean_text(unread[i]->where + ": " + unread[i]->reason));
  if (unread.size() > kUnreadShown)
    text.item("  ",
              fmt::format("and {} more; --json - tells them all.", unread.size() - kUnreadShown));
}

std::string played_in(const TuneMatch& match, const Hymn& hymn) {
  std::string words;
  if (match.transposed != 0) {
    const int steps = std::abs(match.transposed);
    words = fmt::format("; played {} {} the score",
                        counted(static_cast<std::size_t>(steps), "semitone", "semitones"),
                        match.transposed > 0 ? "above" : "below");
  }
  if (match.line > 0) words += fmt::format("; from line {}", match.line + 1);
  return fmt::format("{} ({}{}){}", clean_text(practice::hymn_name(hymn)),
                     hymn.tune.empty() ? "" : clean_text(hymn.tune) + ", ", clean_text(hymn.where),
                     words);
}

}  // namespace

Table hymns_table(const std::vector<const Hymn*>& hymns, const TerminalStyle& style) {
  using Side = Column::Side;
  const bool wide = style.width >= kWideTerminal;
  Table table;
  table.columns = {{"", "Hymn", Side::left}};
  if (wide) table.columns.push_back({"", "Tune", Side::left});
  table.columns.insert(
      table.columns.end(),
      {{"Metre", "of the words", Side::left}, {"", "Key", Side::left}, {"", "Time"}});
  if (wide) table.columns.insert(table.columns.end(), {{"", "Bars"}, {"", "Lines"}});
  table.columns.push_back({"", "Verses"});
  if (wide) table.columns.push_back({"", "Keys", Side::left});
  table.columns.push_back({"", "File", Side::left});
  for (const Hymn* hymn : hymns) {
    std::vector<Cell> row = {{cut(practice::hymn_name(*hymn), 24)}};
    if (wide) row.push_back({cut(hymn->tune, 16)});
    row.insert(row.end(),
               {{cut(practice::metre_words(*hymn), 18)}, {short_key(*hymn)}, {time_of(*hymn)}});
    if (wide) {
      row.push_back({std::to_string(hymn->bars)});
      row.push_back({count_or_dash(hymn->phrases)});
    }
    row.push_back({count_or_dash(hymn->verses)});
    if (wide) row.push_back({practice::range_words(*hymn)});
    row.push_back({cut(hymn->where, wide ? 26 : 16, CutAt::beginning)});
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string hymns_text(const std::vector<const Hymn*>& hymns, const practice::HymnLibrary& library,
                       const TerminalStyle& style) {
  TextWriter text(style);
  const auto all = practice::all_hymns(library.index);
  bool any_counted = false;
  if (hymns.size() <= kInFull) {
    for (const Hymn* hymn : hymns) write_in_full(text, *hymn);
  } else {
    text.table(hymns_table(hymns, style));
    for (const Hymn* hymn : hymns)
      any_counted = any_counted || hymn->metre_source == practice::MetreSource::counted;
  }
  text.gap();
  if (any_counted) text.line("* counted in the words of verse 1; the file does not state it.");
  std::string sum = counted(hymns.size(), "hymn", "hymns");
  if (hymns.size() != all.size()) sum += fmt::format(" of {}", all.size());
  text.line(sum + " in " + clean_text(library.index.folder) + ".");
  write_unread(text, library.index);
  for (const Notice& notice : library.notices) text.line("Note: " + clean_text(to_string(notice)));
  return text.done();
}

std::string tune_answer(const std::vector<TuneMatch>& matches,
                        const std::vector<const Hymn*>& hymns, std::size_t heard_notes,
                        const TerminalStyle& style) {
  TextWriter text(style);
  if (heard_notes < practice::kLeastHeardNotes) {
    text.line(
        fmt::format("Only {} heard; play the first line.",
                    heard_notes == 1 ? "one note was" : fmt::format("{} notes were", heard_notes)));
    return text.done();
  }
  std::vector<const practice::TuneOutline*> tunes;
  tunes.reserve(hymns.size());
  for (const Hymn* hymn : hymns) tunes.push_back(&hymn->outline);
  const Certainty certainty = practice::certainty_of(matches, tunes);
  if (certainty == Certainty::none) {
    text.line("No hymn of this folder begins like that. Play the first line alone, or more of it.");
    return text.done();
  }
  const std::string best = played_in(matches.front(), *hymns[matches.front().tune]);
  text.line(certainty == Certainty::sure ? "This is " + best + "." : "Perhaps " + best + ".");
  for (std::size_t i = 1; i < std::min<std::size_t>(matches.size(), 3); ++i) {
    const bool near = matches[i].cost - matches.front().cost < 0.9;
    if (certainty == Certainty::maybe || near)
      text.item("  or ", played_in(matches[i], *hymns[matches[i].tune]));
  }
  return text.done();
}

}  // namespace loftbeat::report
