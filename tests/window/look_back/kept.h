#pragma once

// A parish's folder of its own with practices in it, made of the demo takes.

#include <ctime>
#include <filesystem>
#include <string>

#include <QTemporaryDir>

#include "base/file.h"
#include "plan/read.h"
#include "practice/session_folder.h"

namespace loftbeat::window {

inline const std::string kDemoParish = LOFTBEAT_SOURCE_DIR "/sessions/quaverham";

class KeptParish {
 public:
  KeptParish() {
    namespace fs = std::filesystem;
    fs::copy(kDemoParish, folder(), fs::copy_options::recursive);
  }
  [[nodiscard]] std::string folder() const { return dir_.path().toStdString() + "/parish"; }
  [[nodiscard]] std::string practices() const { return folder() + "/sessions"; }
  [[nodiscard]] QString settings() const { return dir_.filePath("window.ini"); }
  [[nodiscard]] QString file(const char* name) const { return dir_.filePath(name); }

  // A practice of the demo hymn `hymn` on that day of November 2026, at 9 o'clock; its folder.
  std::string keep(const std::string& hymn, int day) const {
    std::tm when{};
    when.tm_year = 126;
    when.tm_mon = 10;
    when.tm_mday = day;
    when.tm_hour = 9;
    const auto plan = plan::read_plan(folder() + "/" + hymn + ".plan.toml");
    const auto session = practice::make_session(practices(), when, *plan, plan->title);
    const auto take = read_file(folder() + "/" + hymn + ".mid");
    if (!write_file(session->take(), *take)) return {};
    return session->path;
  }

 private:
  QTemporaryDir dir_;
};

}  // namespace loftbeat::window
