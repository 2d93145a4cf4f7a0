#include "organ/stop_list.h"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/nearest.h"
#include "organ/family_guess.h"
#include "organ/listed_pitch.h"
#include "organ/names.h"
#include "organ/registration.h"

namespace loftbeat::organ {
namespace {

constexpr std::size_t kMostListBytes = 20000;
constexpr std::size_t kMostListedDivisions = 20;
constexpr std::size_t kMostListedStops = 500;
constexpr std::size_t kMostListedNameBytes = 60;
constexpr int kKnobsInRow = 5;
constexpr int kListedLowest = 36;
constexpr int kListedHighest = 96;
constexpr int kListedHighestPedal = 67;

// A part of the whole text, without spaces at its ends.
struct Piece {
  std::string_view text;
  std::size_t at = 0;  // bytes from the beginning of the whole

  [[nodiscard]] Piece part(std::size_t from, std::size_t count = std::string_view::npos) const {
    return Piece{text.substr(from, count), at + from}.trimmed();
  }
  [[nodiscard]] Piece trimmed() const {
    constexpr std::string_view kSpaces = " \t\r";
    const std::size_t begin = text.find_first_not_of(kSpaces);
    if (begin == std::string_view::npos) return {text.substr(0, 0), at};
    const std::size_t end = text.find_last_not_of(kSpaces);
    return {text.substr(begin, end - begin + 1), at + begin};
  }
};

// What stands between the separators and is not empty.
std::vector<Piece> pieces_of(const Piece& whole, std::string_view separators) {
  std::vector<Piece> pieces;
  for (std::size_t begin = 0; begin <= whole.text.size();) {
    const std::size_t end =
        std::min(whole.text.find_first_of(separators, begin), whole.text.size());
    const Piece piece = whole.part(begin, end - begin);
    if (!piece.text.empty()) pieces.push_back(piece);
    begin = end + 1;
  }
  return pieces;
}

struct ListedCoupler {
  Piece name;
  Piece sounds;
  Piece played_on;
};

struct Chosen {
  Family family = Family::principal;
  bool either = false;  // the name may also mean `other`
  Family other = Family::principal;
};

// The family by the name, and by the pitch where that tells more.
Chosen by_name(const std::optional<FamilyGuess>& guess, const NamedPitch& named) {
  // "Open Diapason II" counts diapasons, not ranks: that is refused later.
  if (named.feet <= 0) return {guess ? guess->family : Family::mixture};
  if (!is_octave_pitch(named.feet)) {
    // A Twelfth belongs to the principals; thirds do not.
    const bool fifth = is_octave_pitch(named.feet * 3);
    const bool principal = guess && guess->family == Family::principal;
    return {fifth && principal ? Family::principal : Family::mutation};
  }
  if (!guess) return {};
  const Family other = guess->other.value_or(guess->family);
  // What would need ranks, or no octave, is not meant here.
  if (guess->family == Family::mixture) return {other};
  const bool either =
      other != guess->family && other != Family::mixture && other != Family::mutation;
  return {guess->family, either, other};
}

class ListReader {
 public:
  explicit ListReader(std::string_view text) : text_(text) {}

  Result<ListedOrgan> run() {
    if (text_.size() > kMostListBytes)
      return Error{ErrorKind::too_large, "the stop list is longer than 20,000 bytes.", kFile};
    listed_.organ.name = "the organ of the stop list";
    listed_.organ.file = kFile;
    for (const Piece& section : pieces_of({text_, 0}, ";\n")) {
      if (Status status = read_section(section); !status) return status.error();
    }
    if (listed_.organ.stops.empty())
      return wrong(0, "there is no stop in the list; expected divisions with their stops.",
                   R"(Write them as "Great: Open Diapason 8, Principal 4; Pedal: Bourdon 16".)");
    for (const ListedCoupler& coupler : couplers_) {
      if (Status status = add_coupler(coupler); !status) return status.error();
    }
    return std::move(listed_);
  }

 private:
  static constexpr const char* kFile = "--stop-list";

  [[nodiscard]] Error wrong(std::size_t at, std::string message, std::string hint) const {
    int line = 1;
    int column = 1;
    for (std::size_t i = 0; i < at && i < text_.size(); ++i) {
      const auto byte = static_cast<unsigned char>(text_[i]);
      if (byte == '\n') ++line;
      if (byte == '\n') column = 0;
      if ((byte & 0xC0U) != 0x80U) ++column;
    }
    return {ErrorKind::unreadable, std::move(message), kFile, line, column, std::move(hint)};
  }

  Status read_section(const Piece& section) {
    const std::size_t colon = section.text.find(':');
    if (colon == std::string_view::npos)
      return wrong(section.at,
                   fmt::format("\"{}\" stands in no division; expected a division's name and a "
                               "colon before its stops.",
                               section.text),
                   R"(Write, say, "Great: Open Diapason 8".)");
    const Piece name = section.part(0, colon);
    const std::vector<Piece> items = pieces_of(section.part(colon + 1), ",");
    if (plain(name.text) == "couplers" || plain(name.text) == "coupler") {
      for (const Piece& item : items) {
        if (Status status = keep_coupler(item); !status) return status;
      }
      return {};
    }
    if (Status status = add_division(name); !status) return status;
    if (items.empty())
      return wrong(section.at + colon, fmt::format("\"{}\" has no stop.", name.text),
                   "Write its stops behind the colon, or leave the division out.");
    for (const Piece& item : items) {
      if (Status status = add_stop(item); !status) return status;
    }
    return {};
  }

  Status add_division(const Piece& name) {
    if (name.text.empty() || name.text.size() > kMostListedNameBytes)
      return wrong(name.at, "a division has no name; expected 1 to 60 bytes before the colon.",
                   R"(Write, say, "Great: Open Diapason 8".)");
    Organ& organ = listed_.organ;
    if (find_division(organ, name.text).ok())
      return wrong(name.at, fmt::format("the division \"{}\" stands there twice.", name.text),
                   "Write all stops of a division behind one colon.");
    if (organ.divisions.size() >= kMostListedDivisions)
      return wrong(name.at, "there are more than 20 divisions.", "Leave some out.");
    Division division;
    division.name = std::string(name.text);
    const std::string spoken = plain(name.text);
    const bool pedal = spoken.find("pedal") != std::string::npos;
    if (pedal) division.kind = Division::Kind::pedal;
    if (spoken.starts_with("swell")) division.box = SwellBox{};
    division.lowest_key = kListedLowest;
    division.highest_key = pedal ? kListedHighestPedal : kListedHighest;
    const bool left = pedal || division.box;
    int& row = left ? rows_left_ : rows_right_;
    free_.push_back({left ? Side::left : Side::right, ++row, 1});
    organ.divisions.push_back(std::move(division));
    return {};
  }

  // The next free place of a division; a row that is full is followed by another.
  Location next_place(std::size_t division) {
    Location& free = free_[division];
    if (free.place > kKnobsInRow) {
      int& row = free.side == Side::left ? rows_left_ : rows_right_;
      free = {free.side, ++row, 1};
    }
    Location place = free;
    ++free.place;
    return place;
  }

  Status add_stop(const Piece& item) {
    if (const std::size_t colon = item.text.find(':'); colon != std::string_view::npos)
      return wrong(item.at + colon, fmt::format("\"{}\" has a colon in it.", item.text),
                   "Put a semicolon before the next division.");
    Piece written = item;
    std::optional<Family> said;
    if (Status status = take_family(written, said); !status) return status;
    const NamedPitch named = named_pitch(written.text);
    if (named.pitch.empty() && plain(item.text).find(" to ") != std::string::npos)
      return keep_coupler(item);
    if (Status status = check_name_and_pitch(written, named); !status) return status;
    Stop stop;
    stop.name = named.name;
    stop.division = listed_.organ.divisions.size() - 1;
    stop.pitch = named.pitch;
    stop.feet = named.feet;
    const Result<Chosen> chosen = choose_family(written, named, said);
    if (!chosen) return chosen.error();
    stop.family = chosen->family;
    stop.rank = usual_rank(stop.family, stop.pitch);
    stop.location = next_place(stop.division);
    const std::string full = plain(full_name(listed_.organ, stop));
    for (const Stop& known : listed_.organ.stops) {
      if (plain(full_name(listed_.organ, known)) == full)
        return wrong(item.at, fmt::format("\"{}\" stands in its division twice.", item.text),
                     R"(Tell them apart, as "Open Diapason I 8" and "Open Diapason II 8".)");
    }
    if (listed_.organ.stops.size() >= kMostListedStops)
      return wrong(item.at, "there are more than 500 stops.", "Leave some out.");
    if (chosen->either) listed_.either.push_back({listed_.organ.stops.size(), chosen->other});
    listed_.organ.stops.push_back(std::move(stop));
    return {};
  }

  // "(string)" at the end.
  Status take_family(Piece& written, std::optional<Family>& said) const {
    if (written.text.empty() || written.text.back() != ')') return {};
    const std::size_t open = written.text.rfind('(');
    if (open == std::string_view::npos) return {};
    const Piece word = written.part(open + 1, written.text.size() - open - 2);
    std::vector<std::string> known;
    for (const auto& [text, family] : kFamilyWords) {
      if (family == Family::voice) continue;
      if (plain(word.text) == text) said = family;
      known.emplace_back(text);
    }
    if (!said)
      return wrong(word.at, fmt::format("\"{}\" is no family of stops.", word.text),
                   nearest_hint(plain(word.text), known));
    written = written.part(0, open);
    return {};
  }

  [[nodiscard]] Status check_name_and_pitch(const Piece& written, const NamedPitch& named) const {
    if (named.pitch.empty()) {
      const auto guess = family_of_name(written.text);
      const bool mixed = guess && guess->family == Family::mixture;
      return wrong(written.at,
                   fmt::format("\"{}\" has no pitch at its end; expected {}.", written.text,
                               mixed ? "how many ranks" : "feet, such as 8, 4 or 2 2/3"),
                   fmt::format("Write, say, \"{} {}\".", written.text, mixed ? "III" : "8"));
    }
    if (named.name.empty() || named.name.size() > kMostListedNameBytes)
      return wrong(written.at, "a stop has no name; expected 1 to 60 bytes before its pitch.",
                   R"(Write, say, "Principal 4".)");
    if (named.feet > 0 && !is_usual_pitch(named.feet))
      return wrong(written.at + named.pitch_at,
                   fmt::format("{} is no pitch that stops have.", named.pitch),
                   "Expected 16, 8, 4, 2, 1, their double or half, 2 2/3, 1 3/5, 1 1/3, and the "
                   "like.");
    return {};
  }

  [[nodiscard]] Result<Chosen> choose_family(const Piece& written, const NamedPitch& named,
                                             std::optional<Family> said) const {
    const auto guess = family_of_name(named.name);
    const bool ranks = named.feet <= 0;
    const bool octave = !ranks && is_octave_pitch(named.feet);
    if (!said && !guess && octave)
      return wrong(written.at,
                   fmt::format("of \"{}\" no family is known; the name tells nothing.", named.name),
                   near_words(named));
    Chosen chosen = said ? Chosen{*said} : by_name(guess, named);
    const bool mixture = chosen.family == Family::mixture;
    if (mixture == ranks && (chosen.family != Family::mutation || !octave)) return chosen;
    return wrong(written.at + named.pitch_at,
                 fmt::format("\"{}\" does not go with the pitch {}.", named.name, named.pitch),
                 mixture ? "A mixture has ranks, as \"Mixture III\"."
                 : ranks ? "Only a mixture has ranks; write feet, as 8."
                         : "A mutation has a pitch such as 2 2/3 or 1 3/5.");
  }

  [[nodiscard]] static std::string near_words(const NamedPitch& named) {
    const std::string near = nearest_word(named.name);
    const std::string bracket =
        fmt::format("say the family, as \"{} {} (string)\".", named.name, named.pitch);
    if (near.empty()) return "Write another name, or " + bracket;
    return fmt::format("Did you mean \"{}\"? Else {}", near, bracket);
  }

  // The known word that is nearest to one of the name's, or to all of it: one slip in three
  // letters at the most.
  [[nodiscard]] static std::string nearest_word(const std::string& name) {
    constexpr std::size_t kLettersForSlip = 3;
    std::vector<Piece> tries = pieces_of({name, 0}, " ");
    tries.push_back({name, 0});
    std::string near;
    double least = 1;
    for (const Piece& word : tries) {
      for (const std::string& known : known_stop_words()) {
        const std::size_t slips = edit_distance(plain(word.text), plain(known));
        const std::size_t letters = std::max(word.text.size(), known.size());
        const double share = static_cast<double>(slips) / static_cast<double>(letters);
        if (slips * kLettersForSlip > letters || share >= least) continue;
        near = known;
        least = share;
      }
    }
    return near;
  }

  Status keep_coupler(const Piece& item) {
    const std::size_t to = plain_ascii(item.text).find(" to ");
    if (to == std::string_view::npos)
      return wrong(item.at, fmt::format("\"{}\" is no coupler.", item.text),
                   R"(Write what sounds and where it is played, as "Swell to Great".)");
    constexpr std::size_t kTo = 4;  // " to "
    couplers_.push_back({item, item.part(0, to), item.part(to + kTo)});
    return {};
  }
  [[nodiscard]] static std::string plain_ascii(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return lower;
  }

  Status add_coupler(const ListedCoupler& coupler) {
    std::array<std::size_t, 2> ends{};
    for (std::size_t i = 0; i < 2; ++i) {
      const Piece& name = i == 0 ? coupler.sounds : coupler.played_on;
      const auto division = find_division(listed_.organ, name.text);
      if (!division)
        return wrong(name.at, fmt::format("there is no division \"{}\" in the list.", name.text),
                     division.error().hint);
      ends[i] = *division;
    }
    if (ends[0] == ends[1])
      return wrong(coupler.name.at,
                   fmt::format("\"{}\" couples a division to itself.", coupler.name.text),
                   "Name two divisions.");
    if (find_coupler(listed_.organ, coupler.name.text).ok())
      return wrong(coupler.name.at, fmt::format("\"{}\" stands there twice.", coupler.name.text),
                   "Leave one out.");
    if (listed_.organ.couplers.size() >= kMostListedStops)
      return wrong(coupler.name.at, "there are more than 500 couplers.", "Leave some out.");
    Coupler made;
    made.name = std::string(coupler.name.text);
    made.sounds = ends[0];
    made.played_on = ends[1];
    made.location = next_place(ends[1]);
    listed_.organ.couplers.push_back(std::move(made));
    return {};
  }

  std::string_view text_;
  ListedOrgan listed_;
  std::vector<ListedCoupler> couplers_;
  std::vector<Location> free_;  // by division
  int rows_left_ = 0;
  int rows_right_ = 0;
};

std::string_view family_word(Family family) {
  for (const auto& [text, one] : kFamilyWords) {
    if (one == family) return text;
  }
  return {};
}

std::string listed_names(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

}  // namespace

Result<ListedOrgan> parse_stop_list(std::string_view text) { return ListReader(text).run(); }

std::vector<std::string> assumed(const ListedOrgan& listed) {
  const Organ& organ = listed.organ;
  std::vector<std::string> left;
  std::vector<std::string> right;
  std::vector<std::string> boxes;
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    const Division& division = organ.divisions[d];
    const bool on_left = division.kind == Division::Kind::pedal || division.box.has_value();
    (on_left ? left : right).push_back(division.name);
    if (division.box) boxes.push_back(division.name);
  }
  std::vector<std::string> sentences;
  std::string places;
  if (!right.empty()) places += fmt::format("the knobs of {} on the right", listed_names(right));
  if (!left.empty())
    places +=
        fmt::format("{}{} on the left", right.empty() ? "the knobs of " : ", ", listed_names(left));
  sentences.push_back("Reach: " + places +
                      ", a row for each division, in the order written, five a row.");
  sentences.push_back(fmt::format(
      "{} No pistons. Compass C2 to C7, in the pedal C2 to G4.",
      boxes.empty() ? "No division in a swell box." : listed_names(boxes) + " in a swell box."));
  if (organ.couplers.empty() && organ.divisions.size() > 1)
    sentences.emplace_back(
        R"(No couplers; name them if there are any, as "Couplers: Swell to Great".)");
  for (const auto& [word, family] : kFamilyWords) {
    std::vector<std::string> names;
    for (const Stop& stop : organ.stops) {
      if (stop.family == family) names.push_back(full_name(organ, stop));
    }
    if (!names.empty()) sentences.push_back(fmt::format("As {}: {}.", word, listed_names(names)));
  }
  for (const ListedStop& one : listed.either) {
    const Stop& stop = organ.stops[one.stop];
    sentences.push_back(
        fmt::format("{} is taken as {}; the name may also mean {}. If so, write \"{} {} ({})\".",
                    full_name(organ, stop), family_word(stop.family), family_word(one.other),
                    stop.name, stop.pitch, family_word(one.other)));
  }
  return sentences;
}

}  // namespace loftbeat::organ
