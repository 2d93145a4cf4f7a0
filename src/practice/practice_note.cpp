#include "practice/practice_note.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/file.h"
#include "base/toml_document.h"

namespace loftbeat::practice {
namespace {

constexpr std::array<std::string_view, 4> kClicks = {"off", "count-in", "always", "rests"};
constexpr int kMostSinging = 2000;
constexpr std::size_t kMostVerseDigits = 3;

// "play-over", "join 2".
bool is_part(std::string_view text) {
  constexpr std::string_view kJoin = "join ";
  if (text == "play-over") return true;
  if (!text.starts_with(kJoin)) return false;
  const std::string_view verse = text.substr(kJoin.size());
  return !verse.empty() && verse.size() <= kMostVerseDigits && verse.front() != '0' &&
         std::all_of(verse.begin(), verse.end(), [](char c) { return c >= '0' && c <= '9'; });
}

Result<PracticeNote> note_from(Result<TomlDocument> document) {
  if (!document) return document.error();
  const TomlTable root = document->root();
  PracticeNote note;
  const TomlItem click = root["click"];
  if (click.present()) {
    note.click = click.text().value_or("off");
    if (click.is_text() && std::count(kClicks.begin(), kClicks.end(), note.click) == 0)
      click.refuse("\"off\", \"count-in\", \"always\" or \"rests\"");
  }
  note.cold = root["cold"].flag().value_or(false);
  const TomlItem only = root["only"];
  if (only.present()) {
    note.only = only.text().value_or("");
    if (only.is_text() && !is_part(note.only)) only.refuse("\"play-over\", or as \"join 2\"");
  }
  note.singing = static_cast<int>(root["singing"].integer({0, kMostSinging}).value_or(0));
  if (Status status = document->finish(); !status) return status.error();
  return note;
}

}  // namespace

Result<PracticeNote> parse_practice_note(std::string_view text, const std::string& path) {
  return note_from(TomlDocument::parse(text, path));
}

Result<PracticeNote> read_practice_note(const std::string& path) {
  std::error_code why;
  if (!std::filesystem::exists(path, why)) return PracticeNote{};
  return note_from(TomlDocument::read(path));
}

std::string format_practice_note(const PracticeNote& note) {
  std::string text = "# How this practice was made. Loftbeat writes this file.\n";
  text += fmt::format("click = \"{}\"\n", note.click);
  if (note.cold) text += "cold = true\n";
  if (!note.only.empty()) text += fmt::format("only = \"{}\"\n", note.only);
  if (note.singing > 0) text += fmt::format("singing = {}\n", note.singing);
  return text;
}

}  // namespace loftbeat::practice
