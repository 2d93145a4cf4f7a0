#include "csv_lines.h"

#include <fmt/format.h>

#include <map>

namespace loftbeat::music {
namespace {

unsigned byte_at(const std::string& data, std::size_t i) {
  return static_cast<unsigned char>(data.at(i));
}

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || (byte >= 0x7F && byte < 0xA0)) {
      out += fmt::format("\\{:03o}", byte);
    } else {
      if (c == '"' || c == '\\') out += c;
      out += c;
    }
  }
  return out + "\"";
}

std::string numbers(const std::string& data) {
  std::string out;
  for (const char c : data) out += fmt::format(", {}", static_cast<unsigned char>(c));
  return out;
}

std::string channel_record(const SmfEvent& event) {
  static const std::map<int, std::string> names{
      {0x80, "Note_off_c"},  {0x90, "Note_on_c"}, {0xA0, "Poly_aftertouch_c"},
      {0xB0, "Control_c"},   {0xC0, "Program_c"}, {0xD0, "Channel_aftertouch_c"},
      {0xE0, "Pitch_bend_c"}};
  const int kind = event.status & 0xF0;
  const std::string head = fmt::format("{}, {}", names.at(kind), event.status & 0x0F);
  if (kind == 0xE0) {
    return head + fmt::format(", {}", byte_at(event.data, 0) | byte_at(event.data, 1) << 7);
  }
  return head + numbers(event.data);
}

std::string text_name(int type) {
  static const std::map<int, std::string> names{
      {1, "Text_t"},  {2, "Copyright_t"}, {3, "Title_t"},    {4, "Instrument_name_t"},
      {5, "Lyric_t"}, {6, "Marker_t"},    {7, "Cue_point_t"}};
  const auto found = names.find(type);
  return found == names.end() ? "" : found->second;
}

std::string meta_record(const SmfEvent& event) {
  const std::string& data = event.data;
  if (!text_name(event.meta).empty()) return text_name(event.meta) + ", " + quoted(data);
  switch (event.meta) {
    case 0x00: return fmt::format("Sequence_number, {}", byte_at(data, 0) << 8 | byte_at(data, 1));
    case 0x20: return "Channel_prefix" + numbers(data);
    case 0x21: return "MIDI_port" + numbers(data);
    case 0x2F: return "End_track";
    case 0x51:
      return fmt::format("Tempo, {}",
                         byte_at(data, 0) << 16 | byte_at(data, 1) << 8 | byte_at(data, 2));
    case 0x54: return "SMPTE_offset" + numbers(data);
    case 0x58: return "Time_signature" + numbers(data);
    case 0x59:
      return fmt::format("Key_signature, {}, \"{}\"", static_cast<signed char>(data.at(0)),
                         data.at(1) == 0 ? "major" : "minor");
    case 0x7F: return fmt::format("Sequencer_specific, {}{}", data.size(), numbers(data));
    default:
      return fmt::format("Unknown_meta_event, {}, {}{}", event.meta, data.size(), numbers(data));
  }
}

std::string record(const SmfEvent& event) {
  if (event.status == 0xFF) return meta_record(event);
  if (event.status < 0xF0) return channel_record(event);
  return fmt::format("{}, {}{}",
                     event.status == 0xF0 ? "System_exclusive" : "System_exclusive_packet",
                     event.data.size(), numbers(event.data));
}

}  // namespace

std::string csv_lines(const SmfFile& file) {
  std::string out = fmt::format("0, 0, Header, {}, {}, {}\n", file.format, file.tracks.size(),
                                file.ticks_per_quarter);
  for (std::size_t t = 0; t < file.tracks.size(); ++t) {
    out += fmt::format("{}, 0, Start_track\n", t + 1);
    for (const SmfEvent& event : file.tracks[t].events) {
      out += fmt::format("{}, {}, {}\n", t + 1, event.ticks, record(event));
    }
  }
  return out + "0, 0, End_of_file\n";
}

}  // namespace loftbeat::music
