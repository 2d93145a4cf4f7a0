#pragma once

#include <string>
#include <vector>

#include "practice/hymn_library.h"
#include "practice/hymn_search.h"
#include "practice/tune_search.h"
#include "report/table.h"

namespace loftbeat::report {

// A row for each hymn; `style` decides how many columns there are.
[[nodiscard]] Table hymns_table(const std::vector<const practice::Hymn*>& hymns,
                                const TerminalStyle& style);

// Up to four hymns in full, more as a table; then how many there are, what could not be read, and
// what the reader of the folder had to say.
[[nodiscard]] std::string hymns_text(const std::vector<const practice::Hymn*>& hymns,
                                     const practice::HymnLibrary& library,
                                     const TerminalStyle& style);

// What was played, as far as it can be told. `hymns` are those that `matches` count.
[[nodiscard]] std::string tune_answer(const std::vector<practice::TuneMatch>& matches,
                                      const std::vector<const practice::Hymn*>& hymns,
                                      std::size_t heard_notes, const TerminalStyle& style);

// Everything as JSON, one object: folder, hymns, unread, and matches where something was played.
struct HymnsJson {
  const practice::HymnLibrary& library;
  const std::vector<const practice::Hymn*>& hymns;
  const std::vector<practice::TuneMatch>* matches = nullptr;
};
[[nodiscard]] std::string format_hymns_json(const HymnsJson& what);

}  // namespace loftbeat::report
