#include "plan/read_registration.h"

#include <fmt/format.h>

#include "plan/words.h"

namespace loftbeat::plan {
namespace {

constexpr NumberRange kSwell{0, 1};

std::optional<std::vector<std::string>> names_from(const TomlItem& item, int& line) {
  if (!item.is_array()) {
    static_cast<void>(item.items());  // notes what is there and no list
    return std::nullopt;
  }
  line = item.line();
  std::vector<std::string> names = item.texts();
  if (names.size() > kMostNames) item.refuse(fmt::format("at most {} names", kMostNames));
  for (const std::string& name : names) {
    if (name.empty() || name.size() > kMostNameBytes) {
      item.refuse(fmt::format("names of 1 to {} bytes", kMostNameBytes));
      break;
    }
  }
  return names;
}

void read_swell(const TomlItem& item, RegistrationPlan& drawn) {
  if (!item.present()) return;
  drawn.lines.swell = item.line();
  if (item.is_number()) {
    drawn.swell = item.number(kSwell);
    return;
  }
  if (!item.is_table()) {
    item.refuse(
        "a number from 0 (shut) to 1 (open), or one for each division such as "
        "{ Swell = 0.5 }");
    return;
  }
  const TomlTable table = *item.table();
  drawn.swell_of.emplace();
  for (const std::string& division : table.keys()) {
    if (division.size() > kMostNameBytes) {
      item.refuse(fmt::format("names of at most {} bytes", kMostNameBytes));
      return;
    }
    (*drawn.swell_of)[division] = table[division].number(kSwell).value_or(1);
  }
}

void read_crescendo(const TomlItem& item, RegistrationPlan& drawn) {
  if (!item.present()) return;
  drawn.lines.crescendo = item.line();
  drawn.crescendo = static_cast<int>(item.integer({0, kMostStages}).value_or(0));
}

}  // namespace

RegistrationPlan registration_from(const TomlTable& table) {
  RegistrationPlan drawn;
  drawn.stops = names_from(table["stops"], drawn.lines.stops);
  drawn.couplers = names_from(table["couplers"], drawn.lines.couplers);
  drawn.tremulants = names_from(table["tremulants"], drawn.lines.tremulants);
  read_swell(table["swell"], drawn);
  read_crescendo(table["crescendo"], drawn);
  return drawn;
}

}  // namespace loftbeat::plan
