#include <fmt/format.h>

#include <algorithm>
#include <new>
#include <utility>

#include "music/abc.h"
#include "music/abc_lines.h"
#include "music/abc_music.h"
#include "music/abc_system.h"
#include "music/abc_text.h"
#include "music/musicxml_text.h"
#include "music/musicxml_unfold.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kRecognisedBytes = 65536;
constexpr std::size_t kMaxTunesInMessage = 8;

// A field with the lines that go on with it ("+:").
struct WholeField {
  char letter = ' ';
  std::string text;
  AbcPlace at;
};

class AbcTuneReader {
 public:
  AbcTuneReader(std::string_view file_header, const AbcTuneText& tune, const std::string& name)
      : file_header_(file_header), tune_(tune), report_(name) {}

  ReadScore read() {
    take_file_header();
    AbcLineReader lines(tune_.text, tune_.about.line);
    while (const auto line = lines.next()) take_line(*line);
    end_field();
    if (!in_body_) {
      report_.fail({last_line_, 1}, "the tune has no K: field; expected one before its music.");
    }
    return finish();
  }

 private:
  // Fields before the first tune hold for all tunes.
  void take_file_header() {
    AbcLineReader lines(file_header_, 1);
    while (const auto line = lines.next()) {
      if (line->text.substr(0, 2) == "%%") {
        settings_.directive(without_abc_comment(line->text.substr(2)), {line->number, 3});
        continue;
      }
      const auto letter = abc_field_letter(line->text);
      constexpr std::string_view kForAll = "MLQUI";
      if (!letter || kForAll.find(*letter) == kForAll.npos) continue;
      settings_.header_field(*letter, without_abc_comment(line->text).substr(2), {line->number, 3});
    }
  }

  void take_line(const AbcLine& line) {
    last_line_ = line.number;
    if (line.text.substr(0, 2) == "%%") {
      end_field();
      settings_.directive(without_abc_comment(line.text.substr(2)), {line.number, 3});
      return;
    }
    const std::string_view text = without_abc_comment(line.text);
    if (text.empty()) return;
    const auto letter = abc_field_letter(text);
    if (letter == '+') {
      field_.text += " " + std::string(text.substr(2));
      return;
    }
    end_field();
    if (letter) {
      field_ = {*letter, std::string(text.substr(2)), {line.number, 3}};
    } else if (in_body_) {
      music_.line(text, line.number);
    } else if (!abc_trimmed(text).empty()) {
      report_.fail({line.number, 1}, "here stands " + abc_shown(abc_trimmed(text)) +
                                         " before the header ended; expected K: first.");
    }
  }

  void end_field() {
    if (field_.letter == ' ') return;
    const WholeField field = std::exchange(field_, {});
    if (in_body_) {
      settings_.body_field(field.letter, field.text, field.at);
    } else {
      in_body_ = settings_.header_field(field.letter, field.text, field.at);
    }
  }

  ReadScore finish() {
    int verses = 0;
    std::int64_t notes = 0;
    for (AbcPart& part : parts_.all()) {
      part.voice.finish({last_line_, 1});
      part.lyrics.finish(part.voice);
      verses = std::max(verses, part.lyrics.verses());
      notes += part.voice.notes_read();
    }
    if (notes == 0) {
      report_.fail({last_line_, 1}, "the tune has no note that sounds; expected at least one.");
    }
    WrittenScore written = build_abc_system(parts_, report_);
    written.title = settings_.title();
    written.tune = settings_.heading().tune;
    written.poetic_metre = settings_.heading().poetic_metre;
    written.lyric_verses = settings_.verses_below(verses);
    ReadScore read;
    read.score = unfold(written);
    read.notices = report_.take_notices();
    return read;
  }

  std::string_view file_header_;
  const AbcTuneText& tune_;
  AbcReport report_;
  AbcParts parts_{report_};
  AbcSettings settings_{parts_, report_};
  AbcMusic music_{parts_, settings_, report_};
  WholeField field_;
  bool in_body_ = false;
  int last_line_ = 0;
};

std::string tunes_shown(const std::vector<AbcTuneText>& tunes) {
  std::string shown;
  for (std::size_t i = 0; i < std::min(tunes.size(), kMaxTunesInMessage); ++i) {
    const AbcTune& tune = tunes[i].about;
    shown += fmt::format("{}{} {}", i == 0 ? "" : ", ", tune.number, abc_shown(tune.title));
  }
  return tunes.size() > kMaxTunesInMessage ? shown + " ..." : shown;
}

ReadScore read_tune(std::string_view bytes, const std::string& name, std::optional<int> number) {
  const std::string text = decode_abc_text(bytes, name);
  const AbcFileText file = divide_abc(text, name);
  auto tune = file.tunes.begin();
  if (number) {
    tune = std::find_if(tune, file.tunes.end(),
                        [&](const AbcTuneText& t) { return t.about.number == *number; });
  }
  if (tune == file.tunes.end()) {
    throw ReadFailure{{ErrorKind::unreadable,
                       fmt::format("the file has no tune X:{}; expected one of {}.", *number,
                                   tunes_shown(file.tunes)),
                       name}};
  }
  ReadScore read = AbcTuneReader(file.header, *tune, name).read();
  if (!number && file.tunes.size() > 1) {
    read.notices.push_back(
        {fmt::format("the file has {} tunes, of which the first is read: {}. Another is named by "
                     "its number behind the file's name, as in \"{}#{}\"",
                     file.tunes.size(), tunes_shown(file.tunes), name.substr(name.rfind('/') + 1),
                     file.tunes[1].about.number),
         name, 0});
  }
  return read;
}

// Runs a reader; what it throws becomes an error.
template <typename Value, typename Read>
Result<Value> abc_guarded(const std::string& name, Read read) {
  try {
    return read();
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

}  // namespace

Result<std::vector<AbcTune>> list_abc_tunes(std::string_view bytes, const std::string& name) {
  return abc_guarded<std::vector<AbcTune>>(name, [&] {
    const std::string text = decode_abc_text(bytes, name);
    std::vector<AbcTune> tunes;
    for (const AbcTuneText& tune : divide_abc(text, name).tunes) tunes.push_back(tune.about);
    return tunes;
  });
}

Result<ReadScore> parse_abc(std::string_view bytes, const std::string& name,
                            std::optional<int> number) {
  return abc_guarded<ReadScore>(name, [&] { return read_tune(bytes, name, number); });
}

bool looks_like_abc(std::string_view bytes) {
  if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
  if (bytes.substr(0, 4) == "%abc") return true;
  const std::string_view head = bytes.substr(0, kRecognisedBytes);
  if (head.find('\0') != head.npos) return false;
  AbcLineReader lines(head, 1);
  bool tune = false;
  while (const auto line = lines.next()) {
    const auto letter = abc_field_letter(line->text);
    if (letter == 'K' && tune) return true;
    if (letter != 'X') continue;
    const std::string_view number = abc_trimmed(line->text.substr(2));
    tune = tune || (!number.empty() && is_abc_digit(number[0]));
  }
  return false;
}

}  // namespace loftbeat::music
