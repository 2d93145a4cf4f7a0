#include "window/desk/desk.h"

#include <algorithm>

#include <QApplication>
#include <QDir>
#include <QStandardPaths>

#include "window/desk/first_parish.h"

namespace loftbeat::window {
namespace {

QString settings_file(const QString& given) {
  if (!given.isEmpty()) return given;
  return QStandardPaths::writableLocation(QStandardPaths::GenericConfigLocation) +
         QStringLiteral("/loftbeat/window.ini");
}

}  // namespace

Desk::Desk(const QString& parish, const QString& settings)
    : settings_(settings_file(settings), QSettings::IniFormat),
      system_points_(QApplication::font().pointSizeF()) {
  QString folder = parish.isEmpty() ? settings_.value(QStringLiteral("parish")).toString() : parish;
  if (folder.isEmpty() || !QDir(folder).exists()) folder = first_parish();
  settings_.setValue(QStringLiteral("parish"), folder);
  parish_ = find_parish(folder.toStdString());
  shade_ = settings_.value(QStringLiteral("shade")).toString() == QLatin1String("dark")
               ? Shade::dark
               : Shade::light;
  scale_ = std::clamp(settings_.value(QStringLiteral("scale"), kLeastScale).toInt(), kLeastScale,
                      kMostScale);
  plan_ = settings_.value(QStringLiteral("plan")).toString();
  const auto is_plan = [this](const ParishFile& file) { return plan_.toStdString() == file.path; };
  if (std::none_of(parish_.plans.begin(), parish_.plans.end(), is_plan))
    plan_ = parish_.plans.empty() ? QString() : QString::fromStdString(parish_.plans.front().path);
  dress_now();
}

void Desk::refresh() {
  parish_ = find_parish(parish_.folder);
  emit parish_changed();
}

void Desk::choose_plan(const QString& path) {
  if (path == plan_) return;
  plan_ = path;
  settings_.setValue(QStringLiteral("plan"), path);
  emit plan_changed(path);
}

void Desk::choose_look(Shade shade, int scale_percent) {
  shade_ = shade;
  scale_ = std::clamp(scale_percent, kLeastScale, kMostScale);
  settings_.setValue(QStringLiteral("shade"),
                     shade == Shade::dark ? QStringLiteral("dark") : QStringLiteral("light"));
  settings_.setValue(QStringLiteral("scale"), scale_);
  dress_now();
  emit look_changed();
}

void Desk::dress_now() {
  if (auto* app = qobject_cast<QApplication*>(QApplication::instance()))
    dress(*app, shade_, scale_, system_points_);
}

}  // namespace loftbeat::window
