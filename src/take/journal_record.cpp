#include "take/journal_record.h"

#include <zlib.h>

#include "take/journal.h"

namespace loftbeat::take {
namespace {

void put_number(std::string& out, std::uint64_t value, int bytes) {
  for (int i = 0; i < bytes; ++i) out += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

std::uint64_t number_at(std::string_view bytes, std::size_t at, std::size_t count) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < count; ++i)
    value |= std::uint64_t{static_cast<unsigned char>(bytes[at + i])} << (8 * i);
  return value;
}

std::uint32_t check_sum(std::string_view contents) {
  const auto* begin = reinterpret_cast<const Bytef*>(contents.data());
  return static_cast<std::uint32_t>(crc32_z(0, begin, contents.size()));
}

std::uint8_t byte_at(std::string_view bytes, std::size_t at) {
  return static_cast<std::uint8_t>(bytes[at]);
}

}  // namespace

std::string journal_contents(const Event& event) {
  std::string out;
  put_number(out, static_cast<std::uint64_t>(event.at.time_since_epoch().count()), 8);
  out += static_cast<char>(event.kind);
  for (const std::uint8_t byte : {event.port, event.channel, event.data1, event.data2})
    out += static_cast<char>(byte);
  return out + event.bytes;
}

std::optional<Event> event_from_contents(std::string_view contents) {
  if (contents.size() < kRecordLeast) return std::nullopt;
  Event event;
  event.at = Instant(Nanoseconds(static_cast<std::int64_t>(number_at(contents, 0, 8))));
  if (byte_at(contents, 8) > static_cast<std::uint8_t>(EventKind::marker)) return std::nullopt;
  event.kind = static_cast<EventKind>(byte_at(contents, 8));
  event.port = byte_at(contents, 9);
  event.channel = byte_at(contents, 10);
  event.data1 = byte_at(contents, 11);
  event.data2 = byte_at(contents, 12);
  event.bytes = contents.substr(kRecordLeast);
  const bool sane = event.at.time_since_epoch().count() >= 0 && event.channel < 16 &&
                    event.data1 < 128 && event.data2 < 128;
  return sane ? std::optional(std::move(event)) : std::nullopt;
}

std::string journal_record(std::string_view contents) {
  std::string out;
  put_number(out, contents.size(), 4);
  put_number(out, check_sum(contents), 4);
  out += contents;
  return out;
}

std::optional<FoundRecord> record_at(std::string_view bytes, std::size_t at) {
  if (bytes.size() < at + kRecordHead) return std::nullopt;
  const std::size_t length = number_at(bytes, at, 4);
  if (length > kMostJournalBytes || bytes.size() - at - kRecordHead < length) return std::nullopt;
  const std::string_view contents = bytes.substr(at + kRecordHead, length);
  if (check_sum(contents) != number_at(bytes, at + 4, 4)) return std::nullopt;
  return FoundRecord{contents, at + kRecordHead + length};
}

}  // namespace loftbeat::take
