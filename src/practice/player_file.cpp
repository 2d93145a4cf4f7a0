#include "practice/player_file.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/file.h"
#include "base/toml_document.h"

namespace loftbeat::practice {
namespace {

using advise::Handling;
using organ::Side;

constexpr std::size_t kKeysDigits = 16;

constexpr std::array<std::pair<std::string_view, Side>, 3> kSideNames = {
    {{"left", Side::left}, {"right", Side::right}, {"above", Side::above}}};
constexpr std::array<std::pair<std::string_view, Handling>, 3> kKindNames = {
    {{"draw", Handling::draw}, {"push-in", Handling::push_in}, {"piston", Handling::press_piston}}};

template <typename Names, typename Value>
std::string_view name_in(const Names& names, Value value) {
  for (const auto& [name, meant] : names)
    if (meant == value) return name;
  return {};
}

TomlLimits player_limits() {
  TomlLimits limits;
  limits.bytes = std::size_t{1} << 22;  // 500 takes of 50 movements come to a good half of it
  return limits;
}

advise::MovementTime movement_from(const TomlTable& at) {
  advise::MovementTime movement;
  const TomlItem kind = at.needed("kind");
  movement.handling = kind.choice<Handling>(kKindNames).value_or(Handling::draw);
  const TomlItem side = at["side"];
  movement.side = side.choice<Side>(kSideNames).value_or(Side::unknown);
  const bool piston = movement.handling == Handling::press_piston;
  if (piston && side.present()) side.refuse("no side, as pistons have none");
  if (!piston && !side.present()) kind.refuse("a side beside it");
  movement.ratio = at.needed("ratio").number({advise::kLeastRatio, advise::kMostRatio}).value_or(1);
  return movement;
}

bool is_keys(const std::string& text) {
  return text.size() == kKeysDigits && std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

PlayerTake take_from(const TomlTable& at, std::set<std::string>& seen) {
  PlayerTake take;
  const TomlItem keys = at.needed("keys");
  take.keys = keys.text().value_or("");
  if (keys.is_text() && !is_keys(take.keys)) {
    keys.refuse("16 hex digits");
  } else if (!seen.insert(take.keys).second && keys.is_text()) {
    keys.refuse("a take that does not stand there already");
  }
  const TomlItem movements = at["movement"];
  for (const TomlTable& movement : movements.tables())
    take.movements.push_back(movement_from(movement));
  if (take.movements.size() > kMostPlayerMovements) movements.refuse("at most 50 movements");
  return take;
}

Result<PlayerFile> player_from(Result<TomlDocument> document) {
  if (!document) return document.error();
  const TomlTable root = document->root();
  PlayerFile player;
  std::set<std::string> seen;
  const TomlItem takes = root["take"];
  for (const TomlTable& take : takes.tables()) player.takes.push_back(take_from(take, seen));
  if (player.takes.size() > kMostPlayerTakes) takes.refuse("at most 500 takes");
  if (Status status = document->finish(); !status) return status.error();
  return player;
}

// FNV-1a, 64 bits (its constants from memory): any good mixing would do.
class Digest {
 public:
  void add(std::uint64_t value) {
    for (int byte = 0; byte < 8; ++byte) {
      sum_ ^= value >> (8 * byte) & 0xFF;
      sum_ *= 1099511628211ULL;
    }
  }
  [[nodiscard]] std::string text() const { return fmt::format("{:016x}", sum_); }

 private:
  std::uint64_t sum_ = 14695981039346656037ULL;
};

}  // namespace

advise::PlayerTimes PlayerFile::times() const {
  std::vector<advise::MovementTime> all;
  for (const PlayerTake& take : takes)
    all.insert(all.end(), take.movements.begin(), take.movements.end());
  return advise::learned_from(all);
}

Result<PlayerFile> parse_player(std::string_view text, const std::string& path) {
  return player_from(TomlDocument::parse(text, path, player_limits()));
}

Result<PlayerFile> read_player(const std::string& path) {
  return player_from(TomlDocument::read(path, player_limits()));
}

std::string format_player(const PlayerFile& player) {
  std::string text = "# Movements to the stops, learned from takes. Loftbeat writes this file.\n";
  for (const PlayerTake& take : player.takes) {
    text += fmt::format("\n[[take]]\nkeys = {}\n", toml_text(take.keys));
    for (const advise::MovementTime& movement : take.movements) {
      text += "[[take.movement]]\n";
      if (movement.handling != Handling::press_piston)
        text += fmt::format("side = {}\n", toml_text(name_in(kSideNames, movement.side)));
      text +=
          fmt::format("kind = {}\nratio = {}\n", toml_text(name_in(kKindNames, movement.handling)),
                      toml_number(movement.ratio));
    }
  }
  return text;
}

std::string keys_of(const take::Take& take) {
  Digest digest;
  for (const take::Event& event : take.events) {
    const bool on = event.kind == take::EventKind::note_on;
    if (!on && event.kind != take::EventKind::note_off) continue;
    digest.add(static_cast<std::uint64_t>(
        std::chrono::round<std::chrono::milliseconds>(event.at.time_since_epoch()).count()));
    digest.add((on ? 1U << 16 : 0U) | static_cast<unsigned>(event.channel) << 8 | event.data1);
  }
  return digest.text();
}

Counted count_take(PlayerFile& player, PlayerTake take) {
  const bool known = std::any_of(player.takes.begin(), player.takes.end(),
                                 [&](const PlayerTake& t) { return t.keys == take.keys; });
  if (known) return Counted::before;
  if (take.movements.empty()) return Counted::nothing_seen;
  if (take.movements.size() > kMostPlayerMovements) take.movements.resize(kMostPlayerMovements);
  player.takes.push_back(std::move(take));
  if (player.takes.size() > kMostPlayerTakes) player.takes.erase(player.takes.begin());
  return Counted::now;
}

}  // namespace loftbeat::practice
