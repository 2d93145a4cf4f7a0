#include "music/abc_staves.h"

#include <algorithm>

namespace loftbeat::music {
namespace {

constexpr std::size_t kMaxListedStaves = 256;
constexpr std::size_t kMaxStaffVoices = 64;

bool is_listed(const AbcStaves& staves, const std::string& voice) {
  return std::any_of(staves.begin(), staves.end(), [&](const std::vector<std::string>& staff) {
    return std::find(staff.begin(), staff.end(), voice) != staff.end();
  });
}

}  // namespace

AbcStaves parse_abc_staves(std::string_view text) {
  AbcStaves staves;
  int depth = 0;       // of parentheses
  bool begun = false;  // a staff within parentheses has its first voice
  for (std::size_t i = 0; i < text.size() && staves.size() < kMaxListedStaves;) {
    const char c = text[i];
    if (c == '(' && depth++ == 0) begun = false;
    if (c == ')' && depth > 0) --depth;
    const std::size_t end = std::min(text.find_first_of(" \t()[]{}|*+", i), text.size());
    if (end == i) {
      ++i;
      continue;
    }
    const std::string voice(text.substr(i, end - i));
    i = end;
    if (depth > 0 && begun && staves.back().size() >= kMaxStaffVoices) continue;
    if (is_listed(staves, voice)) continue;
    if (depth == 0 || !begun) staves.emplace_back();
    staves.back().push_back(voice);
    begun = depth > 0;
  }
  return staves;
}

void add_abc_staves(AbcStaves& staves, const AbcStaves& more) {
  for (const std::vector<std::string>& staff : more) {
    std::vector<std::string> fresh;
    std::copy_if(staff.begin(), staff.end(), std::back_inserter(fresh),
                 [&](const std::string& voice) { return !is_listed(staves, voice); });
    if (!fresh.empty()) staves.push_back(std::move(fresh));
  }
}

}  // namespace loftbeat::music
