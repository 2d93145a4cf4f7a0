#include "window/desk/parish.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <set>
#include <string_view>

#include "organ/organ.h"
#include "plan/read.h"
#include "room/read.h"

namespace loftbeat::window {
namespace {

namespace fs = std::filesystem;

bool ends_with(const std::string& name, std::string_view ending) {
  return name.size() > ending.size() &&
         name.compare(name.size() - ending.size(), ending.size(), ending) == 0;
}

bool is_score(const std::string& name) {
  constexpr std::array<std::string_view, 6> kEndings = {".musicxml", ".xml", ".mxl",
                                                        ".abc",      ".mid", ".midi"};
  return std::any_of(kEndings.begin(), kEndings.end(),
                     [&](std::string_view ending) { return ends_with(name, ending); });
}

std::string or_file_name(const std::string& name, const std::string& path) {
  return name.empty() ? fs::path(path).stem().stem().string() : name;
}

void add_plan(Parish& parish, const std::string& path, std::set<std::string>& planned) {
  const auto plan = plan::read_plan(path);
  parish.plans.push_back({path, or_file_name(plan ? plan->title : "", path)});
  if (plan) planned.insert(fs::path(plan->score_path).lexically_normal().string());
}

void sort_by_name(std::vector<ParishFile>& files) {
  std::sort(files.begin(), files.end(), [](const ParishFile& a, const ParishFile& b) {
    return a.name < b.name || (a.name == b.name && a.path < b.path);
  });
}

}  // namespace

Parish find_parish(const std::string& folder) {
  Parish parish;
  parish.folder = folder;
  std::set<std::string> planned;
  std::vector<std::string> scores;
  std::error_code why;
  for (fs::directory_iterator entry(folder, why), end; !why && entry != end; entry.increment(why)) {
    const std::string path = entry->path().string();
    const std::string name = entry->path().filename().string();
    if (ends_with(name, ".plan.toml")) {
      add_plan(parish, path, planned);
    } else if (ends_with(name, ".organ.toml")) {
      const auto organ = organ::read_organ(path);
      parish.organs.push_back({path, or_file_name(organ ? organ->name : "", path)});
    } else if (ends_with(name, ".church.toml")) {
      const auto church = room::read_church(path);
      parish.churches.push_back({path, or_file_name(church ? church->name : "", path)});
    } else if (ends_with(name, ".service.toml")) {
      parish.services.push_back({path, or_file_name("", path)});
    } else if (is_score(name)) {
      scores.push_back(path);
    }
  }
  // A MIDI file named like a plan is a take of it.
  const auto is_take = [&parish](const std::string& path) {
    const fs::path stem = fs::path(path).replace_extension();
    return fs::path(path).extension() == ".mid" &&
           std::any_of(parish.plans.begin(), parish.plans.end(), [&](const ParishFile& plan) {
             return plan.path == stem.string() + ".plan.toml";
           });
  };
  for (const std::string& path : scores)
    if (planned.count(fs::path(path).lexically_normal().string()) == 0 && !is_take(path))
      parish.scores.push_back({path, or_file_name("", path)});
  for (auto* files :
       {&parish.plans, &parish.scores, &parish.organs, &parish.churches, &parish.services})
    sort_by_name(*files);
  return parish;
}

}  // namespace loftbeat::window
