#include "organ/midi_learning.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "organ/read.h"

namespace loftbeat::organ {
namespace {

using Kind = MidiMapping::Kind;

Error unclear(std::string message, std::string hint) {
  return {ErrorKind::no_fit, std::move(message), "", 0, 0, std::move(hint)};
}

// One thing that a control may have said: which control, and its value. Exclusive messages and
// programs are told apart by their contents, so that they have no value.
struct Said {
  Kind kind = Kind::none;
  int channel = 1;
  int number = 0;
  int value = 0;
  std::string bytes;
};

constexpr int kNrpnMsb = 99;
constexpr int kNrpnLsb = 98;
constexpr int kDataEntry = 6;
constexpr std::array<int, 4> kParts = {38, 96, 97, 100};  // of parameters, and so no controls

// Reads what was said, NRPN put together.
std::vector<Said> said_in(const std::vector<take::Event>& events) {
  std::vector<Said> all;
  std::array<std::pair<int, int>, 16> parameter;
  parameter.fill({-1, -1});
  for (const take::Event& event : events) {
    const int channel = event.channel + 1;
    auto& [msb, lsb] = parameter[event.channel];
    switch (event.kind) {
      case take::EventKind::note_on:
        all.push_back({Kind::note, channel, event.data1, 1, ""});
        break;
      case take::EventKind::note_off:
        all.push_back({Kind::note, channel, event.data1, 0, ""});
        break;
      case take::EventKind::program:
        all.push_back({Kind::program, channel, event.data1, 0, ""});
        break;
      case take::EventKind::exclusive:
        all.push_back({Kind::exclusive, 1, 0, 0, event.bytes});
        break;
      case take::EventKind::control:
        if (event.data1 == kNrpnMsb) {
          msb = event.data2;
        } else if (event.data1 == kNrpnLsb) {
          lsb = event.data2;
        } else if (event.data1 == kDataEntry && msb >= 0 && lsb >= 0) {
          all.push_back({Kind::nrpn, channel, msb * 128 + lsb, event.data2, ""});
        } else if (std::count(kParts.begin(), kParts.end(), event.data1) == 0 &&
                   event.data1 != 101) {
          all.push_back({Kind::control, channel, event.data1, event.data2, ""});
        }
        break;
      default: break;
    }
  }
  return all;
}

using Place = std::tuple<Kind, int, int>;  // kind, channel, number

// The last value of each control.
std::map<Place, int> last_values(const std::vector<Said>& all) {
  std::map<Place, int> values;
  for (const Said& one : all) values[{one.kind, one.channel, one.number}] = one.value;
  return values;
}

bool has_value(Kind kind) {
  return kind == Kind::note || kind == Kind::control || kind == Kind::nrpn;
}

// Controls with a value that is another in `off` than in `on`.
std::vector<MidiMapping> by_value(const std::vector<Said>& on, const std::vector<Said>& off) {
  std::vector<MidiMapping> found;
  const std::map<Place, int> pushed = last_values(off);
  for (const auto& [place, value] : last_values(on)) {
    const auto& [kind, channel, number] = place;
    const auto other = pushed.find(place);
    if (!has_value(kind) || other == pushed.end() || other->second == value) continue;
    // A note that is off when drawn cannot be said in an organ file.
    if (kind == Kind::note && value == 0) continue;
    MidiMapping mapping;
    mapping.kind = kind;
    mapping.channel = channel;
    mapping.number = number;
    if (kind != Kind::note) {
      mapping.on_value = value;
      mapping.off_value = other->second;
    }
    found.push_back(mapping);
  }
  return found;
}

std::vector<MidiMapping> by_program(const std::vector<Said>& on, const std::vector<Said>& off) {
  std::vector<MidiMapping> found;
  for (const Said& drawn : on) {
    for (const Said& pushed : off) {
      if (drawn.kind != Kind::program || pushed.kind != Kind::program) continue;
      if (drawn.channel != pushed.channel || drawn.number == pushed.number) continue;
      MidiMapping mapping;
      mapping.kind = Kind::program;
      mapping.channel = drawn.channel;
      mapping.number = drawn.number;
      mapping.off_number = pushed.number;
      found.push_back(mapping);
    }
  }
  return found;
}

std::set<std::string> messages_in(const std::vector<Said>& all) {
  std::set<std::string> messages;
  for (const Said& one : all)
    if (one.kind == Kind::exclusive) messages.insert(one.bytes);
  return messages;
}

// What came only in one of the two.
std::vector<std::string> only_in(const std::set<std::string>& here,
                                 const std::set<std::string>& there) {
  std::vector<std::string> only;
  std::set_difference(here.begin(), here.end(), there.begin(), there.end(),
                      std::back_inserter(only));
  return only;
}

std::vector<MidiMapping> by_message(const std::vector<Said>& on, const std::vector<Said>& off) {
  const std::vector<std::string> drawn = only_in(messages_in(on), messages_in(off));
  const std::vector<std::string> pushed = only_in(messages_in(off), messages_in(on));
  std::vector<MidiMapping> found;
  for (const std::string& one : drawn) {
    MidiMapping mapping;
    mapping.kind = Kind::exclusive;
    mapping.on_bytes = one;
    if (pushed.size() == 1) mapping.off_bytes = pushed.front();
    if (pushed.size() <= 1) found.push_back(mapping);
  }
  return found;
}

// A piston's: whatever it sends when pressed.
std::vector<MidiMapping> presses(const std::vector<Said>& on) {
  std::vector<MidiMapping> found;
  std::set<Place> seen;
  std::set<std::string> messages;
  for (const Said& one : on) {
    MidiMapping mapping;
    mapping.kind = one.kind;
    mapping.channel = one.channel;
    mapping.number = one.number;
    mapping.on_bytes = one.bytes;
    const bool released = has_value(one.kind) && one.value == 0;
    const bool fresh = one.kind == Kind::exclusive
                           ? messages.insert(one.bytes).second
                           : seen.insert({one.kind, one.channel, one.number}).second;
    if (released || !fresh) continue;
    if (one.kind == Kind::control || one.kind == Kind::nrpn) {
      mapping.on_value = one.value;
      mapping.off_value = one.value == 0 ? 127 : 0;
    }
    found.push_back(mapping);
  }
  return found;
}

std::string hex(const std::string& bytes) {
  std::string text;
  for (const char byte : bytes)
    text += fmt::format("{}{:02X}", text.empty() ? "" : " ", static_cast<unsigned char>(byte));
  return text;
}

std::string_view header_of(ControlPlace::Kind kind) {
  switch (kind) {
    case ControlPlace::Kind::coupler: return "[[coupler]]";
    case ControlPlace::Kind::tremulant: return "[[tremulant]]";
    case ControlPlace::Kind::piston: return "[[piston]]";
    case ControlPlace::Kind::stop: break;
  }
  return "[[stop]]";
}

std::string_view trimmed(std::string_view line) {
  const std::size_t begin = line.find_first_not_of(" \t\r");
  if (begin == std::string_view::npos) return {};
  return line.substr(begin, line.find_last_not_of(" \t\r") - begin + 1);
}

// The header without a comment behind it: "[[ stop ]] # x" -> "[[stop]]".
std::string bare_header(std::string_view line) {
  std::string bare;
  for (const char c : line.substr(0, line.find('#')))
    if (c != ' ' && c != '\t') bare += c;
  return bare;
}

bool is_midi_key(std::string_view line) {
  constexpr std::string_view kKey = "midi";
  if (!line.starts_with(kKey)) return false;
  const std::string_view rest = trimmed(line.substr(kKey.size()));
  return rest.starts_with("=");
}

// Goes through the lines of an organ file.
class Rewriter {
 public:
  explicit Rewriter(const std::vector<ControlPlace>& places) {
    for (const ControlPlace& place : places)
      wanted_[{std::string(header_of(place.kind)), place.index}] = &place.midi;
  }

  [[nodiscard]] std::string rewrite(std::string_view text) {
    while (!text.empty()) {
      const std::size_t end = text.find('\n');
      take_line(text.substr(0, end));
      if (end == std::string_view::npos) break;
      out_ += '\n';
      text.remove_prefix(end + 1);
    }
    return std::move(out_);
  }

 private:
  void take_line(std::string_view line) {
    const std::string_view words = trimmed(line);
    if (words.starts_with("[")) {
      const std::string header = bare_header(words);
      const auto found = wanted_.find({header, count_[header]++});
      current_ = found == wanted_.end() ? nullptr : found->second;
      out_ += line;
      if (current_ != nullptr) out_ += "\nmidi = " + format_mapping(*current_);
      return;
    }
    // A table's old mapping stands on one line, as TOML 1.0 wants it.
    if (current_ != nullptr && is_midi_key(words)) {
      out_.pop_back();  // the line end before it
      if (!out_.empty() && out_.back() == '\r') out_.pop_back();
      return;
    }
    out_ += line;
  }

  std::map<std::pair<std::string, std::size_t>, const MidiMapping*> wanted_;
  std::map<std::string, std::size_t> count_;
  const MidiMapping* current_ = nullptr;
  std::string out_;
};

const MidiMapping* mapping_at(const Organ& organ, const ControlPlace& place) {
  const auto in = [&](const auto& list) -> const MidiMapping* {
    return place.index < list.size() ? &list[place.index].midi : nullptr;
  };
  switch (place.kind) {
    case ControlPlace::Kind::coupler: return in(organ.couplers);
    case ControlPlace::Kind::tremulant: return in(organ.tremulants);
    case ControlPlace::Kind::piston: return in(organ.pistons);
    case ControlPlace::Kind::stop: break;
  }
  return in(organ.stops);
}

}  // namespace

Result<MidiMapping> learned_mapping(const std::vector<take::Event>& on,
                                    const std::vector<take::Event>& off, LearnedFor what) {
  const std::vector<Said> drawn = said_in(on);
  const std::vector<Said> pushed = said_in(off);
  const bool piston = what == LearnedFor::press;
  if (drawn.empty())
    return unclear("nothing came from the console.",
                   "Does it send MIDI for this control, and to this input?");
  std::vector<MidiMapping> found = piston ? presses(drawn) : by_value(drawn, pushed);
  if (!piston) {
    for (MidiMapping& mapping : by_program(drawn, pushed)) found.push_back(std::move(mapping));
    for (MidiMapping& mapping : by_message(drawn, pushed)) found.push_back(std::move(mapping));
  }
  if (found.size() == 1) return found.front();
  if (found.empty())
    return unclear(
        "drawing and pushing in send the same, so that one cannot be told from the "
        "other.",
        "Set the console to send on and off, if it can.");
  return unclear("more than one control moved.", "Move this one alone.");
}

std::string format_mapping(const MidiMapping& mapping) {
  switch (mapping.kind) {
    case Kind::note:
      return fmt::format("{{ note = {}, channel = {} }}", mapping.number, mapping.channel);
    case Kind::control:
    case Kind::nrpn:
      return fmt::format("{{ {} = {}, channel = {}, on = {}, off = {} }}",
                         mapping.kind == Kind::control ? "control" : "nrpn", mapping.number,
                         mapping.channel, mapping.on_value, mapping.off_value);
    case Kind::program:
      if (mapping.off_number < 0)
        return fmt::format("{{ program = {}, channel = {} }}", mapping.number, mapping.channel);
      return fmt::format("{{ program = {}, off-program = {}, channel = {} }}", mapping.number,
                         mapping.off_number, mapping.channel);
    case Kind::exclusive:
      if (mapping.off_bytes.empty()) return "{ sysex = \"" + hex(mapping.on_bytes) + "\" }";
      return "{ sysex = \"" + hex(mapping.on_bytes) + "\", off-sysex = \"" +
             hex(mapping.off_bytes) + "\" }";
    case Kind::none: break;
  }
  return "{}";
}

Result<std::string> with_mappings(std::string_view text, const std::string& name,
                                  const std::vector<ControlPlace>& places) {
  std::string rewritten = Rewriter(places).rewrite(text);
  const Result<Organ> organ = parse_organ(rewritten, name);
  if (!organ) return organ.error();
  for (const ControlPlace& place : places) {
    const MidiMapping* read = mapping_at(*organ, place);
    if (read == nullptr || !(*read == place.midi))
      return Error{
          ErrorKind::failed,
          "the mapping " + format_mapping(place.midi) + " could not be written into this file.",
          name,
          0,
          0,
          "Write it by hand, each control as a table of its own."};
  }
  return rewritten;
}

}  // namespace loftbeat::organ
