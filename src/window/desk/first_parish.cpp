#include "window/desk/first_parish.h"

#include <filesystem>

#include <QCoreApplication>
#include <QDir>
#include <QStandardPaths>

namespace loftbeat::window {
namespace {

namespace fs = std::filesystem;

// Beside the program, from its folder upwards: where it is installed, or where it was built.
QString demo_parish() {
  QDir folder(QCoreApplication::applicationDirPath());
  do {
    for (const char* inside : {"share/loftbeat/parish", "sessions/quaverham"})
      if (folder.exists(QLatin1String(inside))) return folder.filePath(QLatin1String(inside));
  } while (folder.cdUp());
  return {};
}

}  // namespace

QString first_parish() {
  const QString own = QStandardPaths::writableLocation(QStandardPaths::GenericDataLocation) +
                      QStringLiteral("/loftbeat/parish");
  if (QDir(own).exists()) return own;
  const QString demo = demo_parish();
  if (demo.isEmpty()) return {};
  std::error_code why;
  fs::create_directories(own.toStdString(), why);
  if (!why)
    fs::copy(demo.toStdString(), own.toStdString(),
             fs::copy_options::recursive | fs::copy_options::skip_existing, why);
  // What was installed may be written by root alone; a copy of one's own is one's own to change.
  for (fs::directory_iterator entry(own.toStdString(), why), end; !why && entry != end;
       entry.increment(why)) {
    std::error_code kept;
    fs::permissions(entry->path(), fs::perms::owner_write, fs::perm_options::add, kept);
  }
  return QDir(own).exists() ? own : QString();
}

}  // namespace loftbeat::window
