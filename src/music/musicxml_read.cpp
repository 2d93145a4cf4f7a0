#include "music/musicxml_read.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <utility>

#include "music/heading.h"
#include "music/musicxml_bars.h"
#include "music/musicxml_part.h"
#include "music/musicxml_unfold.h"
#include "music/musicxml_voices.h"
#include "music/read.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kMaxTitleBytes = 400;

// White space of any kind becomes one space; cut at a whole character.
std::string one_line(std::string_view text) {
  std::string line;
  for (const char c : text) {
    const bool space = static_cast<unsigned char>(c) <= ' ';
    if (space && (line.empty() || line.back() == ' ')) continue;
    line.push_back(space ? ' ' : c);
  }
  if (!line.empty() && line.back() == ' ') line.pop_back();
  if (line.size() <= kMaxTitleBytes) return line;
  std::size_t end = kMaxTitleBytes;
  while (end > 0 && (static_cast<unsigned char>(line[end]) & 0xC0) == 0x80) --end;
  return line.substr(0, end);
}

std::string read_title(pugi::xml_node root) {
  std::string title = one_line(root.child("work").child("work-title").child_value());
  if (title.empty()) title = one_line(root.child("movement-title").child_value());
  return title;
}

void require_partwise(const MusicXmlDocument& document) {
  const std::string_view name = document.root().name();
  if (name == "score-partwise") return;
  if (name == "score-timewise") {
    document.fail(document.root(),
                  "this score is written bar by bar (score-timewise); expected it part by part "
                  "(score-partwise).");
  }
  document.fail(document.root(),
                "this is XML but not a MusicXML score; expected <score-partwise>.");
}

void read_parts(MusicXmlDocument& document, WrittenScore& score) {
  ReadingBudget budget;
  for (pugi::xml_node part : document.root().children("part")) {
    if (score.parts.size() >= kMaxParts) {
      document.fail(part, "the score has more than 512 parts; expected fewer.",
                    ErrorKind::too_large);
    }
    score.parts.push_back(MusicXmlPartReader(document, budget).read(part));
    score.parts.back().first_staff = score.staves;
    score.staves += score.parts.back().staves;
    if (score.parts.back().bars.size() != score.parts.front().bars.size()) {
      document.put_up_with(part,
                           "this part has another number of bars than the first; what is "
                           "missing counts as rests");
    }
  }
  if (budget.bars == kMaxWrittenBars) {
    document.fail(document.root(), "the score has no bars; expected at least one.");
  }
  if (budget.notes == kMaxNotes) {
    document.fail(document.root(), "the score has no note that sounds; expected at least one.");
  }
}

void take_headings(pugi::xml_node root, const std::string& title, Score& heading) {
  const std::string below = one_line(root.child("movement-title").child_value());
  if (below != title) take_heading(below, HeadingPlace::below_title, heading);
  std::vector<std::string> lines;
  for (pugi::xml_node creator : root.child("identification").children("creator"))
    lines.push_back(one_line(creator.child_value()));
  for (pugi::xml_node credit : root.children("credit")) {
    for (pugi::xml_node words : credit.children("credit-words"))
      lines.push_back(one_line(words.child_value()));
  }
  for (const std::string& line : lines)
    if (line != title) take_heading(line, HeadingPlace::elsewhere, heading);
}

int verses_with_text(const WrittenScore& score) {
  int verses = 0;
  for (const WrittenPart& part : score.parts) {
    for (const WrittenBar& bar : part.bars) {
      for (const WrittenLyric& lyric : bar.lyrics) {
        if (lyric.text) verses = std::max(verses, lyric.verse);
      }
    }
  }
  return verses;
}

// Own fields first, then what stands above the music.
void read_own_fields(const MusicXmlDocument& document, WrittenScore& score) {
  Score heading;
  const pugi::xml_node fields = document.root().child("identification").child("miscellaneous");
  for (pugi::xml_node field : fields.children("miscellaneous-field")) {
    const std::string_view name = field.attribute("name").value();
    if (name == kVoicesField) score.voices_as_numbered = true;
    const std::string text = one_line(field.child_value());
    if (name == kTuneField && heading.tune.empty())
      heading.tune = short_text(text, kLongestTuneName);
    if (name == kMetreField || name == "meter")
      take_heading("metre: " + text, HeadingPlace::elsewhere, heading);
    if (name == kVersesField) {
      score.lyric_verses =
          std::max(score.lyric_verses, document.whole_number(field, 0, kMaxVerses));
    }
  }
  take_headings(document.root(), score.title, heading);
  score.tune = heading.tune;
  score.poetic_metre = heading.poetic_metre;
}

// A bar that holds more than its metre is mostly a wrong note value; all that comes after it in the
// bar is then late.
void note_overfull_bars(const WrittenScore& score, MusicXmlDocument& document) {
  for (const SystemBar& bar : score.bars) {
    if (bar.length <= bar.metre.length()) continue;
    const auto quarters = [](Tick ticks) {
      return fmt::format("{:.4g}", static_cast<double>(ticks) / kTicksPerQuarter);
    };
    document.put_up_with(
        document.root(),
        fmt::format(
            "bar {} holds {} quarter notes, its metre {}: check its note values, for what is "
            "said of this bar may be the score's fault",
            bar.number, quarters(bar.length), quarters(bar.metre.length())));
  }
}

Result<ReadScore> read_bytes(std::string_view bytes, const std::string& name) {
  MusicXmlDocument document(bytes, name);
  const WrittenScore written = read_written_score(document);
  note_overfull_bars(written, document);
  ReadScore read;
  read.score = unfold(written);
  read.notices = document.take_notices();
  return read;
}

}  // namespace

WrittenScore read_written_score(MusicXmlDocument& document) {
  require_partwise(document);
  WrittenScore score;
  score.title = read_title(document.root());
  read_parts(document, score);
  score.lyric_verses = verses_with_text(score);
  read_own_fields(document, score);
  combine_bars(score);
  assign_voices(score);
  return score;
}

Result<ReadScore> parse_musicxml(std::string_view bytes, const std::string& name) {
  try {
    return read_bytes(bytes, name);
  } catch (const ReadFailure& failure) {
    Error error = failure.error;
    error.file = name;
    return error;
  } catch (const std::bad_alloc&) {
    return Error{ErrorKind::too_large, "the score does not fit into memory", name};
  } catch (const std::exception& e) {
    return Error{ErrorKind::unreadable, std::string("the score cannot be read: ") + e.what(), name};
  }
}

}  // namespace loftbeat::music
