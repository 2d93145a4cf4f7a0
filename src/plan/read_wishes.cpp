#include "plan/read_wishes.h"

#include <fmt/format.h>

#include "base/nearest.h"
#include "plan/words.h"

namespace loftbeat::plan {
namespace {

constexpr NumberRange kLead{0, 1000};
constexpr NumberRange kSharpness{0, 20};
constexpr std::string_view kWishExpected =
    "\"quiet\", \"plain\", \"bright\", \"full\", or figures such as "
    "{ lead = 12, sharpness = 1.6 }";
constexpr std::string_view kMovesExpected =
    "\"join\", \"silent\" or \"phrase N\", such as \"phrase 3\"";
constexpr std::string_view kPhrase = "phrase ";

Wish figures_from(const TomlItem& item, const TomlTable& table) {
  Wish wish{WishKind::figures, {}, {}, item.line()};
  const TomlItem lead = table["lead"];
  const TomlItem sharpness = table["sharpness"];
  wish.lead_sone = lead.number(kLead);
  wish.sharpness_acum = sharpness.number(kSharpness);
  if (!lead.present() && !sharpness.present()) item.refuse(kWishExpected);
  return wish;
}

}  // namespace

std::optional<Wish> wish_from(const TomlItem& item) {
  if (!item.present()) return std::nullopt;
  if (item.is_table()) return figures_from(item, *item.table());
  if (!item.is_text()) {
    item.refuse(kWishExpected);
    return std::nullopt;
  }
  const auto kind = item.choice<WishKind>(kWishes);
  if (!kind) return std::nullopt;
  return Wish{*kind, {}, {}, item.line()};
}

std::optional<MovesAt> moves_at_from(const TomlItem& item) {
  if (!item.present()) return std::nullopt;
  const std::string text = item.is_text() ? *item.text() : std::string();
  if (text == "join") return MovesAt{MovesAtKind::join, 0, item.line()};
  if (text == "silent") return MovesAt{MovesAtKind::silent, 0, item.line()};
  if (text.starts_with(kPhrase)) {
    const auto phrase = integer_from(std::string_view(text).substr(kPhrase.size()));
    if (phrase && *phrase >= 1 && *phrase <= kMostPhrases) {
      return MovesAt{MovesAtKind::phrase_end, *phrase, item.line()};
    }
  }
  const std::string meant = nearest(text, {"join", "silent", "phrase 1"});
  item.refuse(kMovesExpected, meant.empty() ? "" : fmt::format("Did you mean \"{}\"?", meant));
  return std::nullopt;
}

std::vector<std::string> stop_names_from(const TomlItem& item) {
  std::vector<std::string> names = item.texts();
  if (names.size() > kMostNames) item.refuse(fmt::format("at most {} names", kMostNames));
  for (const std::string& name : names) {
    if (!name.empty() && name.size() <= kMostNameBytes) continue;
    item.refuse(fmt::format("names of 1 to {} bytes", kMostNameBytes));
    break;
  }
  return names;
}

std::string toml_of(const Wish& wish) {
  for (const auto& [word, kind] : kWishes) {
    if (kind == wish.kind) return toml_text(word);
  }
  std::string inside;
  if (wish.lead_sone) inside = fmt::format("lead = {}", toml_number(*wish.lead_sone));
  if (wish.sharpness_acum) {
    inside += fmt::format("{}sharpness = {}", inside.empty() ? "" : ", ",
                          toml_number(*wish.sharpness_acum));
  }
  return fmt::format("{{ {} }}", inside);
}

std::string to_string(const MovesAt& moves) {
  if (moves.kind == MovesAtKind::phrase_end) return fmt::format("{}{}", kPhrase, moves.phrase);
  return moves.kind == MovesAtKind::silent ? "silent" : "join";
}

}  // namespace loftbeat::plan
