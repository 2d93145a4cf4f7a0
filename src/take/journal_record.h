#pragma once

// Private to take/: one record of the journal, as bytes.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "take/take.h"

namespace loftbeat::take {

inline constexpr std::size_t kRecordHead = 8;    // length and check sum
inline constexpr std::size_t kRecordLeast = 13;  // contents without bytes

[[nodiscard]] std::string journal_contents(const Event& event);
// Nothing if these bytes are no event.
[[nodiscard]] std::optional<Event> event_from_contents(std::string_view contents);

// Head and contents.
[[nodiscard]] std::string journal_record(std::string_view contents);

// What stands at `at`: its contents if they are whole and sound.
struct FoundRecord {
  std::string_view contents;
  std::size_t end = 0;  // where the next one begins
};
[[nodiscard]] std::optional<FoundRecord> record_at(std::string_view bytes, std::size_t at);

}  // namespace loftbeat::take
