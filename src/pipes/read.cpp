#include "pipes/read.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <utility>

#include "base/toml_document.h"
#include "pipes/pitch.h"
#include "pipes/read_tone.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {
namespace {

constexpr std::size_t kMostRanks = 128;  // the programs of a bank
constexpr std::size_t kMostFiles = 1000;
constexpr std::size_t kMostPipes = 8;
constexpr std::size_t kLongestLabel = 19;
constexpr std::size_t kLongestId = 40;

// Ids and programs that are taken, and where.
class Taken {
 public:
  // Notes an error at `item` if `what` is taken already.
  void take(const std::string& what, const TomlItem& item, const std::string& file) {
    const auto [at, fresh] = by_.emplace(what, file + ":" + std::to_string(item.line()));
    if (!fresh) item.refuse("one that is not taken", "It is taken by " + at->second + ".");
  }

 private:
  std::map<std::string, std::string> by_;
};

bool good_id(const std::string& id) {
  return !id.empty() && id.size() <= kLongestId && std::all_of(id.begin(), id.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

bool good_label(const std::string& label) {
  return !label.empty() && label.size() <= kLongestLabel &&
         std::all_of(label.begin(), label.end(), [](char c) { return c >= ' ' && c <= '~'; });
}

double read_pitch(const TomlItem& item) {
  const auto text = item.text();
  if (!text) return 8;
  const double feet = feet_from(*text);
  if (feet >= 0.25 && feet <= 32) return feet;
  item.refuse("a foot pitch from 1/4 to 32, as \"8\" or \"2 2/3\"");
  return 8;
}

Step read_step(const TomlTable& at, int after) {
  Step step;
  const TomlItem from = at.needed("from");
  step.from_key = static_cast<int>(from.integer({0, 127}).value_or(after));
  if (from.is_integer() && (step.from_key % 12 != 0 || step.from_key <= after)) {
    from.refuse("a C (24, 36, 48 ...) above the step before");
  }
  const TomlItem pitches = at.needed("pitches");
  const std::vector<TomlItem> items = pitches.items();
  if (pitches.is_array() && (items.empty() || items.size() > kMostPipes)) {
    pitches.refuse("1 to 8 foot pitches");
    return step;
  }
  for (const TomlItem& item : items) step.feet.push_back(read_pitch(item));
  return step;
}

void read_steps(const TomlTable& at, Rank& rank) {
  rank.steps.clear();
  const TomlItem steps = at["steps"];
  if (steps.present()) {
    if (at["pitch"].present()) at["pitch"].refuse("pitch or steps, not both");
    int after = -1;
    for (const TomlItem& item : steps.items()) {
      if (rank.steps.size() == kKeyCount) break;
      const auto table = item.table();
      if (!table) continue;
      rank.steps.push_back(read_step(*table, after));
      after = rank.steps.back().from_key;
    }
    if (rank.steps.empty()) steps.refuse("one step or more");
  } else {
    rank.steps.push_back({0, {read_pitch(at.needed("pitch"))}});
  }
  if (rank.steps.empty() || rank.steps.front().feet.empty()) return;
  rank.steps.front().from_key = 0;
  rank.feet = rank.steps.front().feet.front();
}

void read_names(const TomlTable& at, const std::string& file, Rank& rank, Taken& taken) {
  const TomlItem id = at.needed("id");
  rank.id = id.text().value_or("");
  if (id.is_text() && !good_id(rank.id)) id.refuse("small letters, digits and hyphens, at most 40");
  const TomlItem label = at.needed("label");
  rank.label = label.text().value_or("");
  if (label.is_text() && !good_label(rank.label)) {
    label.refuse("at most 19 letters, digits and signs of ASCII");
  }
  const TomlItem program = at.needed("program");
  rank.program = static_cast<int>(program.integer({0, 127}).value_or(0));
  if (id.is_text()) taken.take(rank.id, id, file);
  if (program.is_integer()) taken.take("#" + std::to_string(rank.program), program, file);
}

Rank read_rank(const TomlTable& at, const std::string& file, Rank rank, Taken& taken) {
  read_names(at, file, rank, taken);
  read_steps(at, rank);
  rank.source = at["source"].text().value_or(rank.source);
  rank.power_db = at.needed("power").number(NumberRange{40, 115}).value_or(rank.power_db);
  rank.power_per_octave_db =
      at["power-per-octave"].number(NumberRange{-12, 12}).value_or(rank.power_per_octave_db);
  rank.offset_cents = at["offset"].number(NumberRange{-50, 50}).value_or(rank.offset_cents);
  rank.tuning_cents = at["tuning"].number(NumberRange{-1.2, 1.2}).value_or(rank.tuning_cents);
  read_making(at, rank);
  return rank;
}

Status read_into(Recipes& recipes, Taken& taken, TomlDocument& document, const std::string& file) {
  const TomlTable root = document.root();
  Rank usual;
  usual.source = root.needed("source").text().value_or("");
  usual.family = root.needed("family")
                     .choice<organ::Family>(organ::kFamilyWords)
                     .value_or(organ::Family::principal);
  read_making(root, usual);
  const TomlItem ranks = root.needed("rank");
  const std::vector<TomlTable> tables = ranks.tables();
  if (recipes.ranks.size() + tables.size() > kMostRanks) {
    ranks.refuse("at most 128 ranks in all");
  } else {
    for (const TomlTable& at : tables) recipes.ranks.push_back(read_rank(at, file, usual, taken));
  }
  return document.finish();
}

void by_program(Recipes& recipes) {
  std::sort(recipes.ranks.begin(), recipes.ranks.end(),
            [](const Rank& a, const Rank& b) { return a.program < b.program; });
}

Error no_recipes(const std::string& folder, std::string message) {
  return {ErrorKind::unreadable,
          std::move(message),
          folder,
          0,
          0,
          "Name the folder with the pipe recipes (*.toml)."};
}

// In the order of their names, so that the same folder always reads alike.
Result<std::vector<std::string>> recipe_files(const std::string& folder) {
  std::vector<std::string> files;
  std::error_code trouble;
  std::filesystem::directory_iterator at(folder, trouble);
  for (; !trouble && at != std::filesystem::directory_iterator(); at.increment(trouble)) {
    if (at->path().extension() == ".toml" && files.size() < kMostFiles) {
      files.push_back(at->path().string());
    }
  }
  if (trouble) return no_recipes(folder, "the folder cannot be read: " + trouble.message() + ".");
  if (files.empty()) return no_recipes(folder, "no pipe recipes are in this folder.");
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

Result<Recipes> read_recipes(const std::string& folder) {
  const Result<std::vector<std::string>> files = recipe_files(folder);
  if (!files) return files.error();
  Recipes recipes;
  Taken taken;
  for (const std::string& file : *files) {
    Result<TomlDocument> document = TomlDocument::read(file);
    if (!document) return document.error();
    if (Status status = read_into(recipes, taken, *document, file); !status) return status.error();
  }
  by_program(recipes);
  return recipes;
}

Result<Recipes> parse_recipes(std::string_view text, const std::string& name) {
  Result<TomlDocument> document = TomlDocument::parse(text, name);
  if (!document) return document.error();
  Recipes recipes;
  Taken taken;
  if (Status status = read_into(recipes, taken, *document, name); !status) return status.error();
  by_program(recipes);
  return recipes;
}

}  // namespace loftbeat::pipes
