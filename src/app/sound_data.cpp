#include "app/sound_data.h"

#include <filesystem>
#include <utility>

#include "advise/stop_ranks.h"
#include "app/endings.h"
#include "organ/stop_list.h"
#include "pipes/read.h"
#include "plan/read.h"
#include "room/read.h"

namespace loftbeat::app {
namespace {

namespace fs = std::filesystem;

// Moves a value out of a Result, or keeps its error in `status`.
template <typename Value, typename Target>
void take(Result<Value> result, Target& target, Status& status) {
  if (!status) return;
  if (!result) {
    status = result.error();
    return;
  }
  target = std::move(*result);
}

// The organ of a stop list speaks whatever ranks come nearest.
Status take_listed(const std::string& list, SoundData& data) {
  Result<organ::ListedOrgan> listed = organ::parse_stop_list(list);
  if (!listed) return listed.error();
  data.assumed = organ::assumed(*listed);
  data.organ = std::move(listed->organ);
  const std::vector<std::string> borrowed = advise::borrow_ranks(data.organ, data.recipes);
  data.assumed.insert(data.assumed.end(), borrowed.begin(), borrowed.end());
  return {};
}

}  // namespace

Result<RanksPlace> find_ranks(const std::string& soundfont) {
  std::error_code trouble;
  fs::path folder = fs::read_symlink("/proc/self/exe", trouble).parent_path();
  for (; !folder.empty(); folder = folder.parent_path()) {
    for (const char* place : {"share/loftbeat/soundfonts", "soundfonts"}) {
      const fs::path found = folder / place / "ranks.sf2";
      if (!fs::exists(found, trouble)) continue;
      return RanksPlace{found.parent_path().string(),
                        soundfont.empty() ? found.string() : soundfont};
    }
    if (folder == folder.parent_path()) break;
  }
  return Error{ErrorKind::failed,
               "the SoundFont of the ranks (soundfonts/ranks.sf2) is not there.",
               "",
               0,
               0,
               "The build makes it: cmake --build, target ranks."};
}

Result<SoundData> read_sound_data(const SoundOrder& order) {
  if (order.plan_path.empty()) return sound_data_of(order, std::nullopt);
  Result<plan::Plan> plan = plan::read_plan(order.plan_path);
  if (!plan) return plan.error();
  return sound_data_of(order, std::move(*plan));
}

Result<SoundData> sound_data_of(const SoundOrder& order, std::optional<plan::Plan> read) {
  SoundData data;
  data.plan = std::move(read);
  Status status;
  const plan::Plan plan = data.plan.value_or(plan::Plan{});
  const std::string organ = order.organ_path.empty() ? plan.organ_path : order.organ_path;
  if (organ.empty() && order.stop_list.empty()) {
    return wrong_use("no organ is named.",
                     "Give --organ FILE.organ.toml, or write organ = \"...\" in the plan.");
  }
  if (order.stop_list.empty()) take(organ::read_organ(organ), data.organ, status);
  const std::string church = order.church_path.empty() ? plan.church_path : order.church_path;
  if (!church.empty() && !order.dry) take(room::read_church(church), data.church, status);
  RanksPlace ranks;
  take(find_ranks(order.soundfont), ranks, status);
  if (status) take(pipes::read_recipes(ranks.recipes), data.recipes, status);
  if (status && !order.stop_list.empty()) status = take_listed(order.stop_list, data);
  if (!status) return status.error();
  data.soundfont = ranks.soundfont;
  const int expected = data.church ? data.church->people_expected : 0;
  data.people = order.people.value_or(plan.people.value_or(expected));
  return data;
}

}  // namespace loftbeat::app
