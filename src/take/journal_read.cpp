#include <algorithm>

#include "base/file.h"
#include "take/journal.h"
#include "take/journal_record.h"

namespace loftbeat::take {
namespace {

// Bytes looked at in search of whole records after damage; beyond it the rest counts as lost.
constexpr std::size_t kMostSearch = std::size_t{256} * 1024 * 1024;

// After damage: where the next whole record begins that holds an event; else the end of the bytes.
// A chance agreement of 32 bits of check sum is put up with.
std::size_t next_whole(std::string_view bytes, std::size_t at, std::size_t& searched) {
  for (; at + kRecordHead + kRecordLeast <= bytes.size() && searched < kMostSearch; ++at) {
    // What cannot be an event is not summed up.
    if (!event_from_contents(bytes.substr(at + kRecordHead, kRecordLeast))) continue;
    const auto found = record_at(bytes, at);
    if (found && found->contents.size() >= kRecordLeast) return at;
    searched += kMostJournalBytes;
  }
  return bytes.size();
}

}  // namespace

Result<JournalContents> parse_journal(std::string_view bytes, const std::string& name) {
  // A crash may come before the head is whole: then there is nothing, and that is no error.
  const std::string_view head = bytes.substr(0, kJournalHead.size());
  if (head != kJournalHead.substr(0, head.size()))
    return Error{ErrorKind::unreadable,
                 "this is no journal of a take.",
                 name,
                 0,
                 0,
                 "Choose another file; a recorded take is a MIDI file."};
  JournalContents contents;
  std::size_t at = head.size();
  std::size_t searched = 0;
  while (at < bytes.size() && !contents.ended) {
    const auto found = record_at(bytes, at);
    const bool end = found && found->contents.empty();
    auto event = found && !end ? event_from_contents(found->contents) : std::nullopt;
    if (!end && !event) {
      const std::size_t next = next_whole(bytes, at + 1, searched);
      contents.lost_bytes += next - at;
      at = next;
      continue;
    }
    contents.ended = end;
    if (event) contents.take.events.push_back(std::move(*event));
    at = found->end;
  }
  // Inputs are stamped by their own threads: they may come a little out of order.
  std::stable_sort(contents.take.events.begin(), contents.take.events.end(),
                   [](const Event& a, const Event& b) { return a.at < b.at; });
  return contents;
}

Result<JournalContents> read_journal(const std::string& path) {
  const Result<std::string> bytes = read_file(path);
  if (!bytes) return bytes.error();
  return parse_journal(*bytes, path);
}

}  // namespace loftbeat::take
