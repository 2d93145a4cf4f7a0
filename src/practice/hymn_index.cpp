#include "practice/hymn_index.h"

#include <charconv>
#include <limits>
#include <optional>
#include <utility>

namespace loftbeat::practice {
namespace {

constexpr std::string_view kHead = "loftbeat-hymns";
constexpr std::size_t kLongestField = 4096;

std::uint64_t check_sum(std::string_view text) {
  std::uint64_t sum = 14695981039346656037U;  // FNV-1a
  for (const char c : text) {
    sum ^= static_cast<unsigned char>(c);
    sum *= 1099511628211U;
  }
  return sum;
}

// Writes a line of fields.
class IndexLine {
 public:
  IndexLine(std::string& out, std::string_view kind) : out_(out) { out_ += kind; }
  ~IndexLine() { out_ += '\n'; }
  IndexLine(const IndexLine&) = delete;
  IndexLine& operator=(const IndexLine&) = delete;

  IndexLine& text(std::string_view value) {
    out_ += '\t';
    for (const char c : value.substr(0, kLongestField)) {
      if (c == '\t') {
        out_ += "\\t";
      } else if (c == '\n') {
        out_ += "\\n";
      } else if (c == '\\') {
        out_ += "\\\\";
      } else {
        out_ += c;
      }
    }
    return *this;
  }
  IndexLine& number(std::int64_t value) { return text(std::to_string(value)); }
  template <typename Values, typename Write>
  IndexLine& list(const Values& values, Write write) {
    std::string joined;
    for (const auto& value : values) joined += (joined.empty() ? "" : " ") + write(value);
    out_ += '\t' + joined;
    return *this;
  }

 private:
  std::string& out_;
};

void write_hymn(std::string& out, const Hymn& hymn) {
  const auto whole = [](auto value) { return std::to_string(value); };
  IndexLine line(out, "hymn");
  line.text(hymn.where).text(hymn.title).text(hymn.tune).text(hymn.first_line);
  line.number(static_cast<int>(hymn.metre_source)).number(hymn.poetic_metre.refrain ? 1 : 0);
  line.list(hymn.poetic_metre.lines, whole);
  line.number(hymn.key_known ? 1 : 0).number(hymn.fifths).number(hymn.minor ? 1 : 0);
  line.number(hymn.beats).number(hymn.beat_type).number(hymn.upbeat ? 1 : 0);
  line.number(hymn.bars).number(hymn.phrases).number(hymn.verses);
  line.number(hymn.lowest).number(hymn.highest);
  line.list(hymn.outline.lines, whole);
  line.list(hymn.outline.notes, [](const OutlineNote& note) {
    return std::to_string(note.onset) + " " + std::to_string(note.pitch);
  });
}

// What is wrong with a line; ends inside parse_hymn_index.
struct BadLine {};

// Reads the fields of a line one by one. Throws BadLine.
class IndexFields {
 public:
  explicit IndexFields(std::string_view line) : rest_(line) { kind_ = next(); }

  [[nodiscard]] std::string_view kind() const { return kind_; }

  std::string text() {
    const std::string_view field = next();
    if (field.size() > 2 * kLongestField) throw BadLine{};
    std::string value;
    for (std::size_t i = 0; i < field.size(); ++i) {
      if (field[i] != '\\') {
        value += field[i];
        continue;
      }
      if (++i == field.size()) throw BadLine{};
      const std::size_t which = std::string_view("tn\\").find(field[i]);
      if (which == std::string_view::npos) throw BadLine{};
      value += "\t\n\\"[which];
    }
    return value;
  }

  template <typename Number = int>
  Number number(Number low, Number high) {
    return in_range(next(), low, high);
  }
  bool flag() { return number(0, 1) == 1; }

  // Whole numbers parted by spaces, at most `most`.
  std::vector<std::int64_t> list(std::size_t most) {
    std::string_view field = next();
    std::vector<std::int64_t> values;
    while (!field.empty()) {
      if (values.size() == most) throw BadLine{};
      const std::size_t end = std::min(field.find(' '), field.size());
      values.push_back(in_range<std::int64_t>(field.substr(0, end), 0, kLongest));
      field.remove_prefix(std::min(end + 1, field.size()));
    }
    return values;
  }

  void end() const {
    if (more_) throw BadLine{};
  }

  static constexpr std::int64_t kLongest = std::int64_t{1} << 40;

 private:
  std::string_view next() {
    if (!more_) throw BadLine{};
    const std::size_t tab = rest_.find('\t');
    more_ = tab != rest_.npos;
    const std::string_view field = rest_.substr(0, tab);
    rest_ = more_ ? rest_.substr(tab + 1) : std::string_view{};
    return field;
  }

  template <typename Number>
  static Number in_range(std::string_view field, Number low, Number high) {
    Number value = 0;
    const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), value);
    const bool whole = error == std::errc{} && end == field.data() + field.size();
    if (!whole || value < low || value > high) throw BadLine{};
    return value;
  }

  std::string_view rest_;
  std::string_view kind_;
  bool more_ = true;
};

TuneOutline read_outline(IndexFields& fields) {
  TuneOutline outline;
  for (const std::int64_t line : fields.list(kMostOutlineLines))
    outline.lines.push_back(static_cast<std::size_t>(line));
  const std::vector<std::int64_t> numbers = fields.list(2 * kMostOutlineNotes);
  if (numbers.size() % 2 != 0) throw BadLine{};
  for (std::size_t i = 0; i < numbers.size(); i += 2) {
    const bool late = outline.notes.empty() || numbers[i] > outline.notes.back().onset;
    if (!late || numbers[i + 1] > 127) throw BadLine{};
    outline.notes.push_back({numbers[i], static_cast<int>(numbers[i + 1])});
  }
  for (std::size_t i = 0; i < outline.lines.size(); ++i) {
    const bool inside =
        i == 0 ? outline.lines[0] == 0
               : outline.lines[i] > outline.lines[i - 1] && outline.lines[i] < outline.notes.size();
    if (!inside) throw BadLine{};
  }
  if (outline.lines.empty()) throw BadLine{};
  return outline;
}

Hymn read_hymn(IndexFields& fields) {
  constexpr int kMany = 10'000'000;
  Hymn hymn;
  hymn.where = fields.text();
  hymn.title = fields.text();
  hymn.tune = fields.text();
  hymn.first_line = fields.text();
  hymn.metre_source = static_cast<MetreSource>(fields.number(0, 2));
  hymn.poetic_metre.refrain = fields.flag();
  for (const std::int64_t syllables : fields.list(music::kMostLinesOfVerse)) {
    if (syllables < 1 || syllables > music::kMostSyllablesOfLine) throw BadLine{};
    hymn.poetic_metre.lines.push_back(static_cast<int>(syllables));
  }
  hymn.key_known = fields.flag();
  hymn.fifths = fields.number(-7, 7);
  hymn.minor = fields.flag();
  hymn.beats = fields.number(1, kMany);
  hymn.beat_type = fields.number(1, 1024);
  hymn.upbeat = fields.flag();
  hymn.bars = fields.number(0, kMany);
  hymn.phrases = fields.number(0, kMany);
  hymn.verses = fields.number(0, music::kMaxVerses);
  hymn.lowest = fields.number(0, 127);
  hymn.highest = fields.number(0, 127);
  hymn.outline = read_outline(fields);
  fields.end();
  return hymn;
}

class IndexReader {
 public:
  explicit IndexReader(std::string_view text) : text_(text) {}

  HymnIndex read() {
    while (!text_.empty()) take(IndexFields(line()));
    return std::move(index_);
  }

  std::string_view line() {
    const std::size_t end = text_.find('\n');
    if (end == text_.npos) throw BadLine{};
    const std::string_view line = text_.substr(0, end);
    text_.remove_prefix(end + 1);
    return line;
  }

 private:
  void take(IndexFields fields) {
    if (fields.kind() == "folder") {
      if (!index_.folder.empty()) throw BadLine{};
      index_.folder = fields.text();
      fields.end();
      return;
    }
    if (fields.kind() == "file") {
      take_file(fields);
      return;
    }
    if (index_.files.empty() || ++entries_ > kMostHymns) throw BadLine{};
    if (fields.kind() == "hymn") {
      index_.files.back().hymns.push_back(read_hymn(fields));
    } else if (fields.kind() == "unread") {
      UnreadHymn unread;
      unread.where = fields.text();
      unread.reason = fields.text();
      unread.playing = fields.flag();
      index_.files.back().unread.push_back(std::move(unread));
      fields.end();
    } else {
      throw BadLine{};
    }
  }

  void take_file(IndexFields& fields) {
    if (index_.files.size() == kMostIndexedFiles) throw BadLine{};
    IndexedFile file;
    file.path = fields.text();
    file.bytes = fields.number<std::uint64_t>(0, std::numeric_limits<std::uint64_t>::max());
    file.changed_ns = fields.number<std::int64_t>(std::numeric_limits<std::int64_t>::min(),
                                                  std::numeric_limits<std::int64_t>::max());
    fields.end();
    if (!index_.files.empty() && index_.files.back().path >= file.path) throw BadLine{};
    index_.files.push_back(std::move(file));
  }

  std::string_view text_;
  HymnIndex index_;
  std::size_t entries_ = 0;
};

Error damaged(const std::string& name) {
  return {ErrorKind::unreadable, "the index of hymns is damaged.", name};
}

// The text before the last line, if that holds the check sum of it.
std::optional<std::string_view> checked(std::string_view text) {
  if (text.empty() || text.back() != '\n') return std::nullopt;
  const std::size_t last = text.rfind('\n', text.size() - 2);
  if (last == text.npos) return std::nullopt;
  const std::string_view body = text.substr(0, last + 1);
  if (text.substr(last + 1) != "end\t" + std::to_string(check_sum(body)) + "\n")
    return std::nullopt;
  return body;
}

}  // namespace

std::string format_hymn_index(const HymnIndex& index) {
  std::string out;
  IndexLine(out, kHead).number(kHymnIndexVersion);
  IndexLine(out, "folder").text(index.folder);
  for (const IndexedFile& file : index.files) {
    IndexLine(out, "file").text(file.path).text(std::to_string(file.bytes)).number(file.changed_ns);
    for (const Hymn& hymn : file.hymns) write_hymn(out, hymn);
    for (const UnreadHymn& unread : file.unread)
      IndexLine(out, "unread")
          .text(unread.where)
          .text(unread.reason)
          .number(unread.playing ? 1 : 0);
  }
  const std::string sum = std::to_string(check_sum(out));
  IndexLine(out, "end").text(sum);
  return out;
}

Result<HymnIndex> parse_hymn_index(std::string_view text, const std::string& name) {
  try {
    IndexFields head(text.substr(0, text.find('\n')));
    if (head.kind() != kHead) return damaged(name);
    const int version = head.number(0, std::numeric_limits<int>::max());
    if (version != kHymnIndexVersion)
      return Error{ErrorKind::wrong_use, "the index of hymns is of another version of Loftbeat.",
                   name};
    const auto body = checked(text);
    if (!body) return damaged(name);
    IndexReader reader(*body);
    static_cast<void>(reader.line());
    return reader.read();
  } catch (const BadLine&) {
    return damaged(name);
  } catch (const std::exception&) {  // out of memory
    return damaged(name);
  }
}

}  // namespace loftbeat::practice
