#include "app/player_option.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/file.h"

namespace loftbeat::app {

using practice::Counted;

Result<practice::PlayerFile> player_to_learn(const std::string& path) {
  std::error_code failed;
  const auto status = std::filesystem::symlink_status(path, failed);
  if (status.type() == std::filesystem::file_type::not_found) return practice::PlayerFile{};
  return practice::read_player(path);
}

Status learn_from(practice::Review& review, const take::Take& take,
                  const advise::ConsoleMap& console, const std::string& path,
                  practice::PlayerFile player) {
  practice::PlayerTake counted{practice::keys_of(take), {}};
  if (review.stops.known)
    counted.movements = advise::movement_times(
        {console, review.plan, take, review.take, review.alignment, review.timing.joins});
  const std::size_t seen = counted.movements.size();
  const auto say = [&](std::string words) {
    review.notices.push_back({std::move(words), path, 0});
  };
  switch (practice::count_take(player, std::move(counted))) {
    case Counted::before: say("this take was counted before; nothing is learned twice"); return {};
    case Counted::nothing_seen: say("no movement of a hand could be timed in this take"); return {};
    case Counted::now: break;
  }
  Status written = write_file(path, practice::format_player(player));
  if (written)
    say(fmt::format("{} {} learned from this take", seen,
                    seen == 1 ? "movement was" : "movements were"));
  return written;
}

Result<advise::PlayerTimes> player_to_plan_with(const std::string& path) {
  if (path.empty()) return advise::PlayerTimes{};
  const auto player = practice::read_player(path);
  if (!player) return player.error();
  return player->times();
}

std::string player_sentence(const std::string& path, const advise::PlayerTimes& player) {
  const std::string words = advise::player_times_words(player);
  if (words.empty())
    return fmt::format("{} has seen too few movements; the tabled times are used.\n", path);
  return fmt::format("Movement times are your own, from {}: {}.\n", path, words);
}

}  // namespace loftbeat::app
